using System.Globalization;
using System.Reflection;
using System.Runtime.CompilerServices;
using System.Text.Json;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Service.Access;
using FleetLight.Service.Alerts;
using FleetLight.Service.Intake;
using Microsoft.OpenApi;
using Swashbuckle.AspNetCore.SwaggerGen;

namespace FleetLight.Service.Hosting.Describing;

/// <summary>
/// Puts what the contract's attributes state into the schemas: ranges with units, lengths, patterns. What comes in is closed,
/// unknown members are refused; what goes out is open, so that members can be added to it.
/// </summary>
internal sealed class ContractMarks : ISchemaFilter
{
    private static readonly Type[] Requests =
    [
        typeof(KeyRequest), typeof(EnrolmentRequest), typeof(ExchangeRequest), typeof(WebhookRequest), typeof(NoteBody), typeof(VisitRequest),
        typeof(VisitChangeRequest), typeof(SubscriptionRequest), typeof(MoveRequest),
    ];

    public void Apply(IOpenApiSchema schema, SchemaFilterContext context)
    {
        if (schema is not OpenApiSchema made) return;
        if (context.MemberInfo is PropertyInfo property)
        {
            Mark(made, property);
            // What goes out leaves out what there is none of; it never says null.
            if (!ComesIn(property.DeclaringType!)) made.Type &= ~JsonSchemaType.Null;
        }
        else if (made.Properties is { Count: > 0 } && !ComesIn(context.Type))
        {
            made.AdditionalPropertiesAllowed = true;
        }
        else if (made.Required is not null && context.Type.Namespace == typeof(IFact).Namespace)
        {
            // A flag of a fact may be left out though it cannot be null.
            made.Required.IntersectWith(context.Type.GetProperties()
                .Where(property => property.IsDefined(typeof(RequiredMemberAttribute)))
                .Select(property => JsonNamingPolicy.CamelCase.ConvertName(property.Name)));
        }

        // Anything at all, where the type of the fact decides.
        if (context.Type == typeof(JsonElement)) made.Type = null;
    }

    private static bool ComesIn(Type type) =>
        type.Namespace == typeof(IFact).Namespace || type.Namespace == typeof(ExpectedRequest).Namespace || Requests.Contains(type);

    private static void Mark(OpenApiSchema schema, PropertyInfo property)
    {
        if (property.GetCustomAttribute<QuantityAttribute>() is { } quantity)
        {
            // Of a list, each member has the range.
            var ranged = schema.Items as OpenApiSchema ?? schema;
            ranged.Minimum = Plain(quantity.Least);
            ranged.Maximum = Plain(quantity.Most);
            (schema.Extensions ??= new Dictionary<string, IOpenApiExtension>())["x-unit"] = new JsonNodeExtension(quantity.Unit);
        }

        // The generator passes over comments that are inherited, and only this one is.
        if (property.Name == nameof(IFact.SiteId)) schema.Description ??= "The site it happened on.";
        if (property.GetCustomAttribute<TextAttribute>() is { } text) schema.MaxLength = text.Most;
        if (property.GetCustomAttribute<FormAttribute>() is { } form) schema.Pattern = form.Pattern;
        if (property.GetCustomAttribute<ListAttribute>() is { } list) (schema.MinItems, schema.MaxItems) = (list.Least, list.Most);
        if (property.GetCustomAttribute<ThingIdAttribute>() is null) return;
        if (schema.Items is OpenApiSchema items) items.Pattern = ThingIdAttribute.Pattern;
        else schema.Pattern = ThingIdAttribute.Pattern;
    }

    // By way of decimal, so that 0.000001 does not become 1E-06.
    private static string Plain(double value) => ((decimal)value).ToString(CultureInfo.InvariantCulture);
}

using FleetLight.Service.Access;
using Microsoft.OpenApi;
using Swashbuckle.AspNetCore.SwaggerGen;

namespace FleetLight.Service.Hosting.Describing;

/// <summary>Says of each operation which key it needs.</summary>
internal sealed class NeededScope : IOperationFilter
{
    /// <summary>Name of the only security scheme.</summary>
    public const string Scheme = "key";

    public void Apply(OpenApiOperation operation, OperationFilterContext context)
    {
        var needed = context.ApiDescription.ActionDescriptor.EndpointMetadata.OfType<RequiredScope>().FirstOrDefault();
        if (needed is null) return;
        var which = needed.Scope is { } scope ? $"with the scope '{Problems.ScopeName(scope)}'" : "of any scope";
        operation.Description = $"{operation.Description} Needs a key {which}.".Trim();
        operation.Security = [new OpenApiSecurityRequirement { [new OpenApiSecuritySchemeReference(Scheme, context.Document)] = [] }];
    }
}

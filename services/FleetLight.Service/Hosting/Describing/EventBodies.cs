using System.Reflection;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using Microsoft.OpenApi;
using Swashbuckle.AspNetCore.SwaggerGen;

namespace FleetLight.Service.Hosting.Describing;

/// <summary>Describes the bodies that are events: the envelope, the data of every type of fact, and an example of each.</summary>
internal sealed class EventBodies : IOperationFilter
{
    private const string EventName = "Event";
    private const string EnvelopeName = "Envelope";

    private static readonly SortedDictionary<string, JsonNode> Examples = ReadExamples();

    public void Apply(OpenApiOperation operation, OperationFilterContext context)
    {
        if (operation.RequestBody?.Content is not { } content) return;
        if (content.ContainsKey(Envelope.SingleMediaType)) content[Envelope.SingleMediaType] = OneEvent(context);
        if (content.ContainsKey(Envelope.BatchMediaType)) content[Envelope.BatchMediaType] = Batch(context);
    }

    private static OpenApiMediaType OneEvent(OperationFilterContext context) => new()
    {
        Schema = EventSchema(context),
        Examples = Examples.ToDictionary(pair => pair.Key, pair => (IOpenApiExample)new OpenApiExample { Value = pair.Value.DeepClone() }),
    };

    private static OpenApiMediaType Batch(OperationFilterContext context) => new()
    {
        Schema = new OpenApiSchema
        {
            Type = JsonSchemaType.Array,
            Items = EventSchema(context),
            MinItems = 1,
            MaxItems = Envelope.MostEvents,
            Description = $"At most {Envelope.MostEvents} events and {Envelope.MostBytes} bytes.",
        },
        Example = new JsonArray([.. Examples.Values.Take(2).Select(example => example.DeepClone())]),
    };

    private static OpenApiSchemaReference EventSchema(OperationFilterContext context)
    {
        var schemas = context.SchemaRepository;
        if (!schemas.Schemas.ContainsKey(EventName))
        {
            schemas.AddDefinition(EnvelopeName, EnvelopeSchema());
            var each = FactTypes.All.ToDictionary(pair => pair.Key, pair => OfType(pair.Key, pair.Value, context), StringComparer.Ordinal);
            schemas.AddDefinition(EventName, new OpenApiSchema
            {
                Description = "A fact in its envelope; its type says what its data holds.",
                OneOf = [.. each.Values],
                Discriminator = new OpenApiDiscriminator { PropertyName = "type", Mapping = each },
            });
        }

        return new OpenApiSchemaReference(EventName, context.Document);
    }

    private static OpenApiSchemaReference OfType(string name, Type type, OperationFilterContext context)
    {
        var data = context.SchemaGenerator.GenerateSchema(type, context.SchemaRepository);
        return context.SchemaRepository.AddDefinition(type.Name + EventName, new OpenApiSchema
        {
            AllOf = [new OpenApiSchemaReference(EnvelopeName, context.Document)],
            Type = JsonSchemaType.Object,
            Properties = new Dictionary<string, IOpenApiSchema>
            {
                ["type"] = new OpenApiSchema { Const = name },
                ["data"] = data,
            },
            Required = new HashSet<string> { "type", "data" },
        });
    }

    private static OpenApiSchema EnvelopeSchema() => new()
    {
        Description = "CloudEvents 1.0 in JSON, with the device's running number.",
        Type = JsonSchemaType.Object,
        Properties = new Dictionary<string, IOpenApiSchema>
        {
            ["specversion"] = new OpenApiSchema { Const = "1.0", Description = "Version of CloudEvents." },
            ["id"] = Text("The fact: unique within the source for ever. Sent again, it keeps its id.", 128),
            ["source"] = Text("The device that the key was made for, a URI reference.", 200),
            ["type"] = new OpenApiSchema { Type = JsonSchemaType.String, Description = "The type of fact with its version." },
            ["time"] = new OpenApiSchema
            {
                Type = JsonSchemaType.String,
                Format = "date-time",
                Description = "When it happened, by the device's own clock (RFC 3339).",
            },
            [Envelope.RunningNumber] = new OpenApiSchema
            {
                Type = JsonSchemaType.Integer,
                Format = "int32",
                Minimum = "1",
                Description = "Running number of the device, without a unit: 1, 2, 3, … without a gap.",
            },
            ["datacontenttype"] = Text("application/json; may be left out.", 200),
        },
        Required = new HashSet<string> { "specversion", "id", "source", "type", "time", Envelope.RunningNumber },
    };

    private static OpenApiSchema Text(string description, int most) =>
        new() { Type = JsonSchemaType.String, Description = description, MinLength = 1, MaxLength = most };

    private static SortedDictionary<string, JsonNode> ReadExamples()
    {
        const string folder = "examples/";
        var examples = new SortedDictionary<string, JsonNode>(StringComparer.Ordinal);
        var assembly = Assembly.GetExecutingAssembly();
        foreach (var name in assembly.GetManifestResourceNames().Where(name => name.StartsWith(folder, StringComparison.Ordinal)))
        {
            using var text = assembly.GetManifestResourceStream(name)!;
            examples[name[folder.Length..^".json".Length]] = JsonNode.Parse(text)!;
        }

        return examples;
    }
}

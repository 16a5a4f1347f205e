using System.Text.Json.Nodes;
using FleetLight.Service.Calculations;
using Microsoft.OpenApi;
using Swashbuckle.AspNetCore.SwaggerGen;

namespace FleetLight.Service.Hosting.Describing;

/// <summary>Shows worked examples of every calculation: what is asked, and what the service answers to it.</summary>
internal sealed class CalculationBodies : IOperationFilter
{
    private const string Json = "application/json";

    public void Apply(OpenApiOperation operation, OperationFilterContext context)
    {
        var path = "/" + context.ApiDescription.RelativePath;
        if (!path.StartsWith(CalculationEndpoints.Path, StringComparison.Ordinal)) return;
        foreach (var example in CalculationExample.All.Where(example => path == $"{CalculationEndpoints.Path}/{example.Calculation}"))
        {
            Add(operation.RequestBody!.Content![Json], example.Name, example.Request);
            Add(operation.Responses!["200"].Content![Json], example.Name, example.Answer);
        }
    }

    private static void Add(IOpenApiMediaType content, string name, JsonNode value) =>
        (((OpenApiMediaType)content).Examples ??= new Dictionary<string, IOpenApiExample>())[name] = new OpenApiExample { Value = value.DeepClone() };
}

using Microsoft.OpenApi;
using Swashbuckle.AspNetCore.SwaggerGen;

namespace FleetLight.Service.Hosting.Describing;

/// <summary>Describes answers that come as a table where that form is asked for: the framework knows one content for each status.</summary>
internal sealed class TableAnswers : IOperationFilter
{
    public void Apply(OpenApiOperation operation, OperationFilterContext context)
    {
        if (!context.ApiDescription.ActionDescriptor.EndpointMetadata.OfType<AlsoTable>().Any()) return;
        var answer = (OpenApiResponse)operation.Responses!["200"];
        (answer.Content ??= new Dictionary<string, IOpenApiMediaType>())[Answers.CsvMediaType] = new OpenApiMediaType
        {
            Schema = new OpenApiSchema { Type = JsonSchemaType.String, Description = "A table (RFC 4180) with units in its header; asked for by 'format=csv'." },
        };
    }
}

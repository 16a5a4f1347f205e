using Microsoft.OpenApi;
using Swashbuckle.AspNetCore.SwaggerGen;

namespace FleetLight.Service.Hosting.Describing;

/// <summary>Marks endpoints that answer with files in other forms too.</summary>
/// <param name="MediaTypes">Their media types.</param>
internal sealed record AlsoFiles(IReadOnlyList<string> MediaTypes);

/// <summary>Describes answers that come as a file where that form is asked for: the framework knows one content for each status.</summary>
internal sealed class FileAnswers : IOperationFilter
{
    public void Apply(OpenApiOperation operation, OperationFilterContext context)
    {
        foreach (var mediaType in context.ApiDescription.ActionDescriptor.EndpointMetadata.OfType<AlsoFiles>().SelectMany(files => files.MediaTypes))
        {
            var answer = (OpenApiResponse)operation.Responses!["200"];
            (answer.Content ??= new Dictionary<string, IOpenApiMediaType>())[mediaType] = new OpenApiMediaType
            {
                Schema = new OpenApiSchema { Type = JsonSchemaType.String, Description = "A file, in the form that 'format' asks for." },
            };
        }
    }
}

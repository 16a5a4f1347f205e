using FleetLight.Service.OpenData;
using FleetLight.Service.OpenData.GeoPackage;
using Microsoft.OpenApi;
using Swashbuckle.AspNetCore.SwaggerGen;

namespace FleetLight.Service.Hosting.Describing;

/// <summary>Describes the answers of the open data that have more than one form, or are bytes.</summary>
internal sealed class OpenDataAnswers : IOperationFilter
{
    public void Apply(OpenApiOperation operation, OperationFilterContext context)
    {
        var metadata = context.ApiDescription.ActionDescriptor.EndpointMetadata;
        if (metadata.OfType<AlsoPage>().Any())
        {
            Content(operation, "200")[OgcLinks.Html] = new OpenApiMediaType
            {
                Schema = new OpenApiSchema { Type = JsonSchemaType.String, Description = "The same as a page to read; asked for by 'f=html' or by Accept." },
            };
        }

        var path = context.ApiDescription.RelativePath!;
        if (!path.StartsWith("ogc", StringComparison.Ordinal)) return;
        foreach (var type in (string[])[OgcLinks.Tile, OgcLinks.GeoPackage])
        {
            foreach (var status in (string[])["200", "206"])
            {
                if (operation.Responses!.TryGetValue(status, out var response) && response.Content?.TryGetValue(type, out var media) == true)
                    ((OpenApiMediaType)media).Schema = new OpenApiSchema { Type = JsonSchemaType.String, Format = "binary", Description = "Bytes." };
            }
        }

        if (path.EndsWith("/items", StringComparison.Ordinal))
        {
            Tell(operation, "Content-Crs", "The coordinate reference system of the answer, in angle brackets.");
            Tell(operation, "Link", "Address of the next page, relation 'next' (RFC 8288).");
        }

        if (path.EndsWith(GeoPackageEndpoint.Path, StringComparison.Ordinal))
        {
            Tell(operation, "ETag", "The digest of the file: the same file has the same one on every node.");
            Tell(operation, "Repr-Digest", "SHA-256 of the whole file (RFC 9530).");
        }
    }

    private static void Tell(OpenApiOperation operation, string name, string description) =>
        (((OpenApiResponse)operation.Responses!["200"]).Headers ??= new Dictionary<string, IOpenApiHeader>())[name] =
        new OpenApiHeader { Description = description, Schema = new OpenApiSchema { Type = JsonSchemaType.String } };

    private static IDictionary<string, IOpenApiMediaType> Content(OpenApiOperation operation, string status) =>
        ((OpenApiResponse)operation.Responses![status]).Content ??= new Dictionary<string, IOpenApiMediaType>();
}

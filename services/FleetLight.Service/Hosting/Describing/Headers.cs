using FleetLight.Contracts.Wire;
using FleetLight.Service.Access;
using FleetLight.Service.Exports;
using FleetLight.Service.Labels;
using FleetLight.Service.Sync;
using Microsoft.OpenApi;
using Swashbuckle.AspNetCore.SwaggerGen;

namespace FleetLight.Service.Hosting.Describing;

/// <summary>Describes the headers that calls and answers carry, and the answers that any call with a key may get.</summary>
internal sealed class Headers : IOperationFilter
{
    private const string EventStream = "text/event-stream";

    public void Apply(OpenApiOperation operation, OperationFilterContext context)
    {
        var path = context.ApiDescription.RelativePath!.TrimEnd('/');
        if (context.ApiDescription.ActionDescriptor.EndpointMetadata.OfType<RequiredScope>().Any()) Faults(operation, context);
        if (operation.Responses!.ContainsKey("429")) Tell(operation, "429", "Retry-After", "When to try again, s.");
        if (path == "v1/events")
        {
            Ask(operation, Envelope.DeviceClockHeader,
                "What the device's clock shows as it sends (RFC 3339), so that a wrong clock can be allowed for.", "date-time");
        }

        if (path == "v1/circuits/{id}")
        {
            Ask(operation, "If-None-Match", "ETag of the state that the caller has already; 304 where it still holds.");
            Ask(operation, FeedCursor.SeenThroughHeader,
                "What an earlier answer said in this header, or a cursor of the change feed: the state is no older than that, whichever node answers.");
            Tell(operation, "200", FeedCursor.SeenThroughHeader, "Send it back to see nothing older, whichever node answers. Not sent with 'asOf' or 'knownBy'.");
            Tell(operation, "200", "ETag", "Changes whenever the state does. Not sent with 'asOf' or 'knownBy'.");
        }

        if (path == "v1/visits/{id}" && context.ApiDescription.HttpMethod == HttpMethods.Put)
            Ask(operation, "If-Match", "The version of the visit from which the change was made, in quotation marks, where the body does not say it.");
        if (path == "v1/attachments/{sha256}") Pictures(operation);
        if (context.ApiDescription.ActionDescriptor.EndpointMetadata.OfType<StableBytes>().Any()) StableFiles(operation);
        if (path == "v1/changes")
        {
            Ask(operation, "Last-Event-ID", "Resumes a stream of server-sent events after this cursor.");
            Content(operation, "200")[EventStream] = new OpenApiMediaType { Schema = Text("Events named 'change' with a change as data and its cursor as id.") };
        }

        if (path == "v1/stream")
        {
            Ask(operation, "Last-Event-ID", "Resumes a stream of server-sent events after this cursor.");
            Content(operation, "200")[EventStream] = new OpenApiMediaType { Schema = Text("Events named 'told' with a CloudEvents 1.0 event as data and its cursor as id.") };
        }

        if (path == "v1/sites/{id}/labels")
        {
            Tell(operation, "200", "Link", "Address of the next page of an SVG, relation 'next' (RFC 8288).");
            Tell(operation, "200", LabelEndpoint.NotesHeader, "What to know of the labels: which have no code and why, what had no room.");
        }

        if (path is "v1/changes" or "v1/stream" || context.ApiDescription.ParameterDescriptions.Any(parameter => parameter.Name == "cursor"))
            Tell(operation, "200", "Link", "Address of the next page, relation 'next' (RFC 8288).");
    }

    private static void Faults(OpenApiOperation operation, OperationFilterContext context)
    {
        var problem = context.SchemaGenerator.GenerateSchema(typeof(Problem), context.SchemaRepository);
        if (!operation.Responses!.ContainsKey("429")) Add("429", "More requests than one caller may send in this time. Nothing of this one was recorded.");
        Add("500", "Something went wrong inside the service.");
        Add("503", "The service cannot answer now. Nothing of the request was recorded.");
        Tell(operation, "503", "Retry-After", "When to try again, s.");

        void Add(string status, string description) => (operation.Responses ??= [])[status] = new OpenApiResponse
        {
            Description = description,
            Content = new Dictionary<string, IOpenApiMediaType> { [ProblemMedia.Type] = new OpenApiMediaType { Schema = problem } },
        };
    }

    private static void StableFiles(OpenApiOperation operation)
    {
        Ask(operation, "Range", "One range of its bytes, for instance 'bytes=1000-': so a fetch that broke off goes on (RFC 9110, 14.2).");
        Ask(operation, "If-Range", "ETag of what was fetched before; where it no longer holds, the whole is answered.");
        Ask(operation, "If-None-Match", "ETag of what the caller has already; 304 where it still holds.");
        foreach (var status in (ReadOnlySpan<string>)["200", "206"])
        {
            Tell(operation, status, "ETag", "Strong: the same bytes as long as it is the same.");
            Tell(operation, status, StableFileResult.ReprDigest, "SHA-256 of the whole file as it is, not compressed (RFC 9530), where it is known.");
        }

        foreach (var content in Content(operation, "200"))
        {
            var text = new OpenApiMediaType { Schema = Text("The file.") };
            Content(operation, "206")[content.Key] = text;
            ((OpenApiMediaType)content.Value).Schema = Text("The file.");
        }

        Tell(operation, "206", "Content-Range", "Which bytes, of how many.");
        Tell(operation, "416", "Content-Range", "How many bytes there are.");
    }

    private static void Pictures(OpenApiOperation operation)
    {
        foreach (var content in (operation.RequestBody?.Content ?? Content(operation, "200")).Where(each => each.Key.StartsWith("image/", StringComparison.Ordinal)))
            ((OpenApiMediaType)content.Value).Schema = new OpenApiSchema { Type = JsonSchemaType.String, Format = "binary", Description = "The picture's bytes." };
        if (operation.RequestBody is null) Tell(operation, "200", "ETag", "The digest: the bytes behind it never change.");
    }

    private static void Ask(OpenApiOperation operation, string name, string description, string? format = null) =>
        (operation.Parameters ??= []).Add(
            new OpenApiParameter { Name = name, In = ParameterLocation.Header, Description = description, Schema = Text(null, format) });

    private static void Tell(OpenApiOperation operation, string status, string name, string description)
    {
        var response = (OpenApiResponse)operation.Responses![status];
        (response.Headers ??= new Dictionary<string, IOpenApiHeader>())[name] = new OpenApiHeader { Description = description, Schema = Text() };
    }

    private static IDictionary<string, IOpenApiMediaType> Content(OpenApiOperation operation, string status) =>
        ((OpenApiResponse)operation.Responses![status]).Content ??= new Dictionary<string, IOpenApiMediaType>();

    private static OpenApiSchema Text(string? description = null, string? format = null) =>
        new() { Type = JsonSchemaType.String, Description = description, Format = format };
}

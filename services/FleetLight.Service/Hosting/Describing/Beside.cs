using FleetLight.Service.Alerts;
using Microsoft.OpenApi;
using Swashbuckle.AspNetCore.SwaggerGen;

namespace FleetLight.Service.Hosting.Describing;

/// <summary>Describes what no endpoint of ours describes: the metrics, the document itself, and what webhooks are sent.</summary>
internal sealed class Beside : IDocumentFilter
{
    public void Apply(OpenApiDocument swaggerDoc, DocumentFilterContext context)
    {
        var json = new OpenApiSchema { Type = JsonSchemaType.Object };
        var text = new OpenApiSchema { Type = JsonSchemaType.String };
        swaggerDoc.Paths["/metrics"] = Get(swaggerDoc, "getMetrics", "Figures for a monitoring system, in the Prometheus text format", "text/plain", text);
        swaggerDoc.Paths["/openapi/v1.json"] = Get(swaggerDoc, "getOpenApi", "This document", "application/json", json);
        swaggerDoc.Webhooks = new Dictionary<string, IOpenApiPathItem> { ["alert"] = Alert(swaggerDoc, context) };
    }

    private static OpenApiPathItem Get(OpenApiDocument document, string id, string summary, string mediaType, OpenApiSchema schema) => new()
    {
        Operations = new Dictionary<HttpMethod, OpenApiOperation>
        {
            [HttpMethod.Get] = new()
            {
                OperationId = id,
                Tags = new HashSet<OpenApiTagReference> { new("Health", document) },
                Summary = summary,
                Responses = new OpenApiResponses
                {
                    ["200"] = new OpenApiResponse
                    {
                        Description = "OK",
                        Content = new Dictionary<string, IOpenApiMediaType> { [mediaType] = new OpenApiMediaType { Schema = schema } },
                    },
                },
            },
        },
    };

    private static OpenApiPathItem Alert(OpenApiDocument document, DocumentFilterContext context) => new()
    {
        Operations = new Dictionary<HttpMethod, OpenApiOperation>
        {
            [HttpMethod.Post] = new()
            {
                OperationId = "tellAlert",
                Tags = new HashSet<OpenApiTagReference> { new("Webhooks", document) },
                Summary = "An alert was raised or cleared",
                Description = "Sent to the address of a webhook. Check the signature, answer 2xx at once, and take each webhook-id once.",
                Parameters =
                [
                    Header("webhook-id", "The delivery; the same on every attempt."),
                    Header("webhook-timestamp", "When this attempt was sent: seconds since 1970-01-01T00:00:00Z."),
                    Header("webhook-signature", "'v1,' and the Base64 of an HMAC-SHA256 over id, timestamp and body, as Standard Webhooks describe."),
                ],
                RequestBody = new OpenApiRequestBody
                {
                    Required = true,
                    Content = new Dictionary<string, IOpenApiMediaType>
                    {
                        ["application/json"] = new OpenApiMediaType
                        {
                            Schema = context.SchemaGenerator.GenerateSchema(typeof(AlertMessage), context.SchemaRepository),
                        },
                    },
                },
                Responses = new OpenApiResponses { ["2XX"] = new OpenApiResponse { Description = "Taken. Anything else is tried again, then parked." } },
            },
        },
    };

    private static OpenApiParameter Header(string name, string description) => new()
    {
        Name = name,
        In = ParameterLocation.Header,
        Required = true,
        Description = description,
        Schema = new OpenApiSchema { Type = JsonSchemaType.String },
    };
}

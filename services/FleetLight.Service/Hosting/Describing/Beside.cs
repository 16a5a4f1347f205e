using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
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
        swaggerDoc.Paths[ApiDocument.Path] = Get(swaggerDoc, "getOpenApi", "This document", "application/json", json);
        swaggerDoc.Paths[AsyncApi.Path] = Get(swaggerDoc, "getAsyncApi", "What travels as events, as an AsyncAPI 3.0 document", "application/json", json);
        swaggerDoc.Webhooks = new Dictionary<string, IOpenApiPathItem>
        {
            ["alert"] = Told(swaggerDoc, context, new(
                "tellAlert", "Webhooks", "An alert was raised or cleared", "Sent to the address of a webhook.", "application/json", typeof(AlertMessage),
                "Taken. Anything else is tried again, then parked.")),
            ["told"] = Told(swaggerDoc, context, new(
                "tellSubscription", "Subscriptions", "A fact was recorded, an alert was raised or cleared, or a thing changed",
                "Sent to the address of a subscription, one after the other.", Envelope.SingleMediaType, typeof(ToldEvent),
                "Taken. Anything else is tried again while all that comes after it waits, then parked.")),
        };
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
                Description = "Needs no key.",
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

    private sealed record Message(string Id, string Tag, string Summary, string Where, string MediaType, Type Body, string Taken);

    private static OpenApiPathItem Told(OpenApiDocument document, DocumentFilterContext context, Message message) => new()
    {
        Operations = new Dictionary<HttpMethod, OpenApiOperation>
        {
            [HttpMethod.Post] = new()
            {
                OperationId = message.Id,
                Tags = new HashSet<OpenApiTagReference> { new(message.Tag, document) },
                Summary = message.Summary,
                Description = $"{message.Where} Check the signature, answer 2xx at once, and take each webhook-id once.",
                Parameters =
                [
                    Header("webhook-id", "The message; the same on every attempt."),
                    Header("webhook-timestamp", "When this attempt was sent: seconds since 1970-01-01T00:00:00Z."),
                    Header(
                        "webhook-signature",
                        "'v1,' and the Base64 of an HMAC-SHA256 over id, timestamp and body, as Standard Webhooks describe; two with a space between while a "
                        + "secret is replaced."),
                ],
                RequestBody = new OpenApiRequestBody
                {
                    Required = true,
                    Content = new Dictionary<string, IOpenApiMediaType>
                    {
                        [message.MediaType] = new OpenApiMediaType
                        {
                            Schema = context.SchemaGenerator.GenerateSchema(message.Body, context.SchemaRepository),
                        },
                    },
                },
                Responses = new OpenApiResponses { ["2XX"] = new OpenApiResponse { Description = message.Taken } },
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

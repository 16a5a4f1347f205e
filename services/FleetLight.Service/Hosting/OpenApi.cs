using System.Text.Json.Nodes;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Hosting.Describing;
using Microsoft.AspNetCore.Mvc.ApiExplorer;
using Microsoft.OpenApi;

namespace FleetLight.Service.Hosting;

/// <summary>The OpenAPI document and its page.</summary>
public static class OpenApi
{
    /// <summary>Adds the generator.</summary>
    public static IServiceCollection AddOpenApiDocument(this IServiceCollection services)
    {
        services.ConfigureHttpJsonOptions(options => WireJson.Configure(options.SerializerOptions));
        services.AddEndpointsApiExplorer();
        services.AddSingleton<ApiDocument>();
        return services.AddSwaggerGen(options =>
        {
            options.SwaggerDoc(ApiDocument.Name, new OpenApiInfo
            {
                Title = "FleetLight",
                Version = "v1",
                Description =
                    "Facts in, state out: field devices hand in what was done and measured on outdoor-lighting sites; FleetLight keeps it for "
                    + "ever and says what is built, what each circuit should read, what is wrong and what to do next. Verdicts are advice, never "
                    + "a certificate: local codes and licensed persons decide. Errors are RFC 9457 problem details with a stable 'type', the "
                    + "'field' at fault and a 'remedy'.",
                License = new OpenApiLicense { Name = "MIT" },
            });
            options.AddServer(new OpenApiServer { Url = "/", Description = "The service that serves this document." });
            options.AddSecurityDefinition(NeededScope.Scheme, new OpenApiSecurityScheme
            {
                Type = SecuritySchemeType.Http,
                Scheme = "bearer",
                Description = "A key of your organisation.",
            });
            foreach (var file in Directory.EnumerateFiles(AppContext.BaseDirectory, "FleetLight.*.xml")) options.IncludeXmlComments(file);
            options.SchemaFilter<ContractMarks>();
            options.OperationFilter<NeededScope>();
            options.OperationFilter<EventBodies>();
            options.OperationFilter<CalculationBodies>();
            options.OperationFilter<Parameters>();
            options.OperationFilter<Headers>();
            options.OperationFilter<TableAnswers>();
            options.OperationFilter<OpenDataAnswers>();
            options.OperationFilter<FileAnswers>();
            options.DocumentFilter<Beside>();
            options.CustomOperationIds(IdOf);
            options.SupportNonNullableReferenceTypes();
            options.NonNullableReferenceTypesAsRequired();
            options.CustomSchemaIds(NameOf);
        });
    }

    /// <summary>Serves the page of the document at <c>/docs</c>.</summary>
    public static void UseOpenApiPage(this WebApplication app) =>
        app.UseSwaggerUI(options =>
        {
            options.RoutePrefix = "docs";
            options.SwaggerEndpoint(ApiDocument.Path, "FleetLight v1");
            options.DocumentTitle = "FleetLight API";
            // One document only: the bar to choose another is of no use.
            options.HeadContent = "<style>.swagger-ui .topbar { display: none }</style>";
        });

    /// <summary>Serves the document at <c>/openapi/v1.json</c>, and the AsyncAPI document, which is made of it.</summary>
    public static void MapApiDocuments(this IEndpointRouteBuilder routes)
    {
        routes.MapGet(ApiDocument.Path, async (ApiDocument document) =>
        {
            var text = await document.TextAsync();
            return Results.Bytes(text.Json, "application/json;charset=utf-8", entityTag: text.Tag);
        }).ExcludeFromDescription();
        var made = new Lazy<Task<JsonObject>>(async () =>
            AsyncApi.Of(JsonNode.Parse((await routes.ServiceProvider.GetRequiredService<ApiDocument>().TextAsync()).Json)!.AsObject()));
        routes.MapGet(AsyncApi.Path, async () => Answers.Json(await made.Value)).ExcludeFromDescription();
    }

    // Names for generated clients, which follow from the method and the path and so never change: getV1CircuitsByIdReadings.
    private static string IdOf(ApiDescription operation)
    {
        var words = operation.RelativePath!.Split(['/', '-'], StringSplitOptions.RemoveEmptyEntries)
            .Select(part => part.StartsWith('{') ? "By" + Capital(part[1..^1]) : Capital(part));
        return operation.HttpMethod!.ToLowerInvariant() + string.Concat(words);
    }

    private static string Capital(string word) => char.ToUpperInvariant(word[0]) + word[1..];

    private static string NameOf(Type type) => type.IsGenericType
        ? $"{type.Name[..type.Name.IndexOf('`', StringComparison.Ordinal)]}Of{string.Concat(type.GetGenericArguments().Select(NameOf))}"
        : type.Name;
}

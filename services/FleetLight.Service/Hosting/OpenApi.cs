using FleetLight.Contracts.Wire;
using FleetLight.Service.Access;
using Microsoft.OpenApi;
using Swashbuckle.AspNetCore.SwaggerGen;

namespace FleetLight.Service.Hosting;

/// <summary>The OpenAPI document and its page.</summary>
public static class OpenApi
{
    /// <summary>Adds the generator.</summary>
    public static IServiceCollection AddOpenApiDocument(this IServiceCollection services)
    {
        services.ConfigureHttpJsonOptions(options => WireJson.Configure(options.SerializerOptions));
        services.AddEndpointsApiExplorer();
        return services.AddSwaggerGen(options =>
        {
            options.SwaggerDoc("v1", new OpenApiInfo
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
            options.AddSecurityDefinition("key", new OpenApiSecurityScheme
            {
                Type = SecuritySchemeType.Http,
                Scheme = "bearer",
                Description = "A key of your organisation.",
            });
            foreach (var file in Directory.EnumerateFiles(AppContext.BaseDirectory, "FleetLight.*.xml")) options.IncludeXmlComments(file);
            options.OperationFilter<NeededScope>();
            options.SupportNonNullableReferenceTypes();
            options.NonNullableReferenceTypesAsRequired();
            options.CustomSchemaIds(NameOf);
        });
    }

    /// <summary>Serves the document at <c>/openapi/v1.json</c> and its page at <c>/docs</c>.</summary>
    public static void UseOpenApiDocument(this WebApplication app)
    {
        app.UseSwagger(options =>
        {
            options.RouteTemplate = "openapi/{documentName}.json";
            options.OpenApiVersion = OpenApiSpecVersion.OpenApi3_1;
        });
        app.UseSwaggerUI(options =>
        {
            options.RoutePrefix = "docs";
            options.SwaggerEndpoint("/openapi/v1.json", "FleetLight v1");
            options.DocumentTitle = "FleetLight API";
        });
    }

    private static string NameOf(Type type) => type.IsGenericType
        ? $"{type.Name[..type.Name.IndexOf('`', StringComparison.Ordinal)]}Of{string.Concat(type.GetGenericArguments().Select(NameOf))}"
        : type.Name;

    private sealed class NeededScope : IOperationFilter
    {
        public void Apply(OpenApiOperation operation, OperationFilterContext context)
        {
            var needed = context.ApiDescription.ActionDescriptor.EndpointMetadata.OfType<RequiredScope>().FirstOrDefault();
            if (needed is null) return;
            operation.Description = $"{operation.Description} Needs a key with the scope '{Problems.ScopeName(needed.Scope)}'.".Trim();
            operation.Security = [new OpenApiSecurityRequirement { [new OpenApiSecuritySchemeReference("key", context.Document)] = [] }];
        }
    }
}

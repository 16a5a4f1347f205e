using System.Security.Cryptography;
using Microsoft.Net.Http.Headers;
using Microsoft.OpenApi;
using Swashbuckle.AspNetCore.Swagger;

namespace FleetLight.Service.Hosting.Describing;

/// <summary>
/// The OpenAPI document. Nothing in it changes while the service runs, nor with who asks or by what address: it is made once, for that costs a good part
/// of a second.
/// </summary>
internal sealed class ApiDocument(IServiceProvider services)
{
    /// <summary>Its name.</summary>
    public const string Name = "v1";

    /// <summary>Where it is.</summary>
    public const string Path = "/openapi/" + Name + ".json";

    private readonly Lazy<Task<ApiDocumentText>> text = new(() => Task.Run(() => MakeAsync(services)));

    /// <summary>It, as it is sent.</summary>
    public Task<ApiDocumentText> TextAsync() => text.Value;

    private static async Task<ApiDocumentText> MakeAsync(IServiceProvider services)
    {
        using var stream = new MemoryStream();
        await services.GetRequiredService<ISwaggerProvider>().GetSwagger(Name).SerializeAsJsonAsync(stream, OpenApiSpecVersion.OpenApi3_1);
        var json = stream.ToArray();
        return new ApiDocumentText(json, new EntityTagHeaderValue($"\"{Convert.ToHexStringLower(SHA256.HashData(json).AsSpan(0, 16))}\""));
    }
}

/// <summary>The document.</summary>
/// <param name="Json">JSON, UTF-8.</param>
/// <param name="Tag">Strong entity tag.</param>
internal sealed record ApiDocumentText(byte[] Json, EntityTagHeaderValue Tag);

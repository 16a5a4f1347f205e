using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Wire;

namespace FleetLight.Testing.Service;

/// <summary>An answer of the service, read whole.</summary>
/// <param name="Status">Its status.</param>
/// <param name="MediaType">Its content type without parameters; none where there is no content.</param>
/// <param name="Headers">Its headers, without those of the content.</param>
/// <param name="Body">Its content.</param>
public sealed record Answer(HttpStatusCode Status, string? MediaType, HttpResponseHeaders Headers, byte[] Body)
{
    /// <summary>The content as text.</summary>
    public string Text => Encoding.UTF8.GetString(Body);

    /// <summary>The content as JSON.</summary>
    public JsonNode Json => JsonNode.Parse(Body) ?? throw new InvalidOperationException("The content is null.");

    /// <summary>The content as a record of the contract.</summary>
    public T As<T>() => JsonSerializer.Deserialize<T>(Body, WireJson.Lenient) ?? throw new InvalidOperationException("The content is null.");

    /// <summary>The answer, which has to have that status; a test that was not meant to look at it ends here otherwise.</summary>
    public Answer Expect(HttpStatusCode status) =>
        Status == status ? this : throw new InvalidOperationException($"Expected {(int)status}, got {(int)Status}: {Text}");

    /// <summary>Reads an answer whole.</summary>
    internal static async Task<Answer> ReadAsync(HttpResponseMessage response)
    {
        byte[] body = await response.Content.ReadAsByteArrayAsync().ConfigureAwait(false);
        return new Answer(response.StatusCode, response.Content.Headers.ContentType?.MediaType, response.Headers, body);
    }
}

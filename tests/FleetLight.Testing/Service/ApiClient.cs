using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;
using FleetLight.Contracts.Wire;

namespace FleetLight.Testing.Service;

/// <summary>Calls the service over HTTP with one key, or with none.</summary>
public sealed class ApiClient
{
    private readonly HttpClient _http;
    private readonly AuthenticationHeaderValue? _key;

    /// <summary>Calls with that key; without one where it is null.</summary>
    public ApiClient(HttpClient http, string? key)
    {
        _http = http;
        Key = key;
        _key = key is null ? null : new AuthenticationHeaderValue("Bearer", key);
    }

    /// <summary>The key; none where it calls without.</summary>
    public string? Key { get; }

    /// <summary>The same address with another key.</summary>
    public ApiClient With(string? key) => new(_http, key);

    /// <summary>Sends any request.</summary>
    public async Task<Answer> SendAsync(
        HttpMethod method, string path, HttpContent? content = null, params (string Name, string Value)[] headers)
    {
        using HttpResponseMessage response = await StartAsync(method, path, content, headers).ConfigureAwait(false);
        return await Answer.ReadAsync(response).ConfigureAwait(false);
    }

    /// <summary>Sends a request and gives the answer as soon as its headers are there, for answers that never end.</summary>
    public async Task<HttpResponseMessage> StartAsync(
        HttpMethod method, string path, HttpContent? content = null, params (string Name, string Value)[] headers)
    {
        using HttpRequestMessage request = new(method, path) { Content = content };
        request.Headers.Authorization = _key;
        foreach ((string name, string value) in headers) request.Headers.TryAddWithoutValidation(name, value);
        return await _http.SendAsync(request, HttpCompletionOption.ResponseHeadersRead).ConfigureAwait(false);
    }

    /// <summary>GETs.</summary>
    public Task<Answer> GetAsync(string path, params (string Name, string Value)[] headers) =>
        SendAsync(HttpMethod.Get, path, null, headers);

    /// <summary>GETs what is there, as a record of the contract.</summary>
    public async Task<T> ReadAsync<T>(string path) =>
        (await GetAsync(path).ConfigureAwait(false)).Expect(HttpStatusCode.OK).As<T>();

    /// <summary>POSTs a value as JSON.</summary>
    public Task<Answer> PostAsync(string path, object? body = null) =>
        SendAsync(HttpMethod.Post, path, body is null ? null : Content(JsonSerializer.SerializeToUtf8Bytes(body, WireJson.Lenient), "application/json"));

    /// <summary>POSTs bytes of a content type; none is stated where it is null.</summary>
    public Task<Answer> PostAsync(string path, byte[] body, string? contentType, params (string Name, string Value)[] headers) =>
        SendAsync(HttpMethod.Post, path, Content(body, contentType), headers);

    /// <summary>POSTs text of a content type.</summary>
    public Task<Answer> PostAsync(string path, string body, string? contentType, params (string Name, string Value)[] headers) =>
        PostAsync(path, Encoding.UTF8.GetBytes(body), contentType, headers);

    /// <summary>PUTs a value as JSON.</summary>
    public Task<Answer> PutAsync(string path, object body, params (string Name, string Value)[] headers) =>
        SendAsync(HttpMethod.Put, path, Content(JsonSerializer.SerializeToUtf8Bytes(body, WireJson.Lenient), "application/json"), headers);

    /// <summary>PUTs bytes of a content type.</summary>
    public Task<Answer> PutAsync(string path, byte[] body, string contentType) => SendAsync(HttpMethod.Put, path, Content(body, contentType));

    /// <summary>DELETEs.</summary>
    public Task<Answer> DeleteAsync(string path) => SendAsync(HttpMethod.Delete, path);

    private static ByteArrayContent Content(byte[] body, string? contentType)
    {
        ByteArrayContent content = new(body);
        if (contentType is not null) content.Headers.TryAddWithoutValidation("Content-Type", contentType);
        return content;
    }
}

using System.Collections.Concurrent;
using System.Text;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;

namespace FleetLight.Deploy.Tests.Running;

/// <summary>A listener that takes every post and keeps its bytes.</summary>
public sealed class Catcher : IAsyncDisposable
{
    private readonly ConcurrentQueue<(string Path, byte[] Body, string Id, string Stamp, string Signatures)> all = new();
    private WebApplication? app;

    /// <summary>Where it listens.</summary>
    public string Address => app!.Urls.First();

    /// <summary>The paths that were posted to.</summary>
    public IEnumerable<string> Paths => all.Select(post => post.Path);

    /// <summary>Ids of the messages that were posted to a path, in the order in which they came.</summary>
    public string[] IdsAt(string path) => [.. all.Where(post => post.Path == path).Select(post => post.Id)];

    /// <summary>
    /// Whether everything that was posted to a path from a place on is signed with a secret, as Standard Webhooks describe: HMAC-SHA256 over id, time and
    /// body with points between, in Base64 behind "v1,".
    /// </summary>
    public bool AreSigned(string path, int from, string secret) => all.Where(post => post.Path == path).Skip(from).All(post =>
    {
        byte[] said = [.. Encoding.UTF8.GetBytes($"{post.Id}.{post.Stamp}."), .. post.Body];
        string expected = $"v1,{Convert.ToBase64String(System.Security.Cryptography.HMACSHA256.HashData(Convert.FromBase64String(secret["whsec_".Length..]), said))}";
        return post.Signatures.Split(' ').Contains(expected);
    });

    /// <summary>Whether any post to the path holds that text (UTF-8, as Protocol Buffers keep it).</summary>
    public bool Holds(string path, string text) =>
        all.Any(post => post.Path == path && post.Body.AsSpan().IndexOf(Encoding.UTF8.GetBytes(text)) >= 0);

    /// <summary>Starts to listen.</summary>
    public async Task StartAsync()
    {
        WebApplicationBuilder builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        app = builder.Build();
        app.Run(TakeAsync);
        await app.StartAsync();
    }

    /// <inheritdoc/>
    public ValueTask DisposeAsync() => app?.DisposeAsync() ?? ValueTask.CompletedTask;

    private async Task TakeAsync(HttpContext context)
    {
        using MemoryStream body = new();
        await context.Request.Body.CopyToAsync(body);
        all.Enqueue((
            context.Request.Path, body.ToArray(), context.Request.Headers["webhook-id"].ToString(), context.Request.Headers["webhook-timestamp"].ToString(),
            context.Request.Headers["webhook-signature"].ToString()));
    }
}

using System.Collections.Concurrent;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;
using StandardWebhooks;

namespace FleetLight.Endurance.Tests.Hosting;

/// <summary>Somebody who is told of alerts, takes all, and keeps what came to check who signed it.</summary>
internal sealed class SignedReceiver : IAsyncDisposable
{
    private readonly WebApplication app;
    private readonly ConcurrentQueue<Told> all = new();

    private SignedReceiver(WebApplication app) => this.app = app;

    /// <summary>Where it listens.</summary>
    public string Url { get; private set; } = "";

    /// <summary>What came, in the order in which it came.</summary>
    public IReadOnlyCollection<Told> All => all;

    /// <summary>Starts to listen.</summary>
    public static async Task<SignedReceiver> StartAsync()
    {
        WebApplicationBuilder builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        SignedReceiver receiver = new(builder.Build());
        receiver.app.Run(receiver.TakeAsync);
        await receiver.app.StartAsync();
        receiver.Url = receiver.app.Urls.First();
        return receiver;
    }

    /// <inheritdoc/>
    public ValueTask DisposeAsync() => app.DisposeAsync();

    private async Task TakeAsync(HttpContext context)
    {
        using StreamReader reader = new(context.Request.Body);
        HeaderDictionary headers = new(context.Request.Headers.ToDictionary(StringComparer.OrdinalIgnoreCase));
        all.Enqueue(new Told(context.Request.Path, headers, await reader.ReadToEndAsync()));
    }
}

/// <summary>What a receiver was told.</summary>
/// <param name="Path">At which of its paths.</param>
/// <param name="Headers">The headers, the signature among them.</param>
/// <param name="Body">The body.</param>
internal sealed record Told(string Path, IHeaderDictionary Headers, string Body)
{
    /// <summary>Its id, the same at every attempt.</summary>
    public string Id => Headers["webhook-id"].ToString();

    /// <summary>Fails where that secret did not sign it.</summary>
    public void IsSignedBy(string secret) => new StandardWebhook(secret).Verify(Body, Headers);
}

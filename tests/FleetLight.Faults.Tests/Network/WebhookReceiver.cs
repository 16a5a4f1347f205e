using System.Collections.Concurrent;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.Extensions.Logging;

namespace FleetLight.Faults.Tests.Network;

/// <summary>Somebody who wants to be told of alerts, and takes all.</summary>
internal sealed class WebhookReceiver : IAsyncDisposable
{
    private readonly WebApplication app;
    private readonly ConcurrentQueue<string> ids = new();

    private WebhookReceiver(WebApplication app) => this.app = app;

    /// <summary>Where it listens.</summary>
    public string Url { get; private set; } = "";

    /// <summary>The ids of what it took, in the order in which it came.</summary>
    public IReadOnlyCollection<string> Ids => ids;

    /// <summary>Starts to listen.</summary>
    public static async Task<WebhookReceiver> StartAsync()
    {
        WebApplicationBuilder builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        WebhookReceiver receiver = new(builder.Build());
        receiver.app.Run(context =>
        {
            receiver.ids.Enqueue(context.Request.Headers["webhook-id"].ToString());
            return Task.CompletedTask;
        });
        await receiver.app.StartAsync();
        receiver.Url = receiver.app.Urls.First() + "/told";
        return receiver;
    }

    /// <inheritdoc/>
    public ValueTask DisposeAsync() => app.DisposeAsync();
}

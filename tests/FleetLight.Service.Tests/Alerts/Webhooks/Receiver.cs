using System.Collections.Concurrent;
using System.Text.Json.Nodes;
using FleetLight.Testing.Service;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;

namespace FleetLight.Service.Tests.Alerts.Webhooks;

/// <summary>Somebody who wants to be told of alerts: keeps what is posted, and answers as a test says.</summary>
internal sealed class Receiver : IAsyncDisposable
{
    private readonly WebApplication app;
    private readonly ConcurrentQueue<Received> all = new();

    private Receiver(WebApplication app) => this.app = app;

    /// <summary>Where it listens.</summary>
    public string Url { get; private set; } = "";

    /// <summary>What was posted, in the order in which it came, also what was answered with a failure.</summary>
    public IReadOnlyCollection<Received> All => all;

    /// <summary>What was posted and taken.</summary>
    public IEnumerable<Received> Taken => all.Where(each => each.Status is >= 200 and < 300);

    /// <summary>How it answers.</summary>
    public Func<HttpContext, Task<int>> Answer { get; set; } = _ => Task.FromResult(StatusCodes.Status200OK);

    /// <summary>Starts to listen.</summary>
    public static async Task<Receiver> StartAsync()
    {
        WebApplicationBuilder builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.UseUrls("http://127.0.0.1:0");
        WebApplication app = builder.Build();
        Receiver receiver = new(app);
        app.Run(receiver.TakeAsync);
        await app.StartAsync();
        receiver.Url = app.Urls.First() + "/told";
        return receiver;
    }

    /// <summary>Answers everything with that status from now on.</summary>
    public void AnswerWith(int status) => Answer = _ => Task.FromResult(status);

    /// <summary>An answer that never comes: the request stands open until its sender gives it up.</summary>
    public static Task<int> HangUpAsync(HttpContext context)
    {
        TaskCompletionSource<int> answer = new(TaskCreationOptions.RunContinuationsAsynchronously);
        context.RequestAborted.Register(() => answer.TrySetResult(StatusCodes.Status499ClientClosedRequest));
        return answer.Task;
    }

    /// <summary>Waits until that many posts have been taken.</summary>
    public Task TookAsync(int count) => Eventually.IsSoAsync(() => Taken.Count() >= count, $"{count} deliveries to be taken");

    /// <summary>Stops listening.</summary>
    public ValueTask DisposeAsync() => app.DisposeAsync();

    private async Task TakeAsync(HttpContext context)
    {
        using StreamReader reader = new(context.Request.Body);
        string body = await reader.ReadToEndAsync();
        HeaderDictionary headers = new(context.Request.Headers.ToDictionary(StringComparer.OrdinalIgnoreCase));
        int status = await Answer(context);
        all.Enqueue(new Received(context.Request.Method, context.Request.Path, headers, body, status));
        context.Response.StatusCode = status;
    }
}

/// <summary>What was posted to a receiver.</summary>
internal sealed record Received(string Method, string Path, IHeaderDictionary Headers, string Body, int Status)
{
    public string Id => Headers["webhook-id"].ToString();

    public JsonNode Json => JsonNode.Parse(Body)!;

    public string Type => (string)Json["type"]!;

    public string Subject => (string)Json["data"]!["finding"]!["subject"]!["id"]!;
}

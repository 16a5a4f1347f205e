using FleetLight.Service.Limits;
using FleetLight.Service.Photos;

namespace FleetLight.Service.Hosting;

/// <summary>
/// Bounds how long a caller waits for the store. A database that is slow or silent is answered for with a 503 that says when
/// to come back, and never with a wait that has no end.
/// </summary>
public static class TimeLimit
{
    /// <summary>Most time for finding out whose key it is.</summary>
    public static readonly TimeSpan KeyLookUp = TimeSpan.FromSeconds(4);

    /// <summary>Most time until an answer begins, and for keeping a batch once it is read.</summary>
    public static readonly TimeSpan Answer = TimeSpan.FromSeconds(10);

    /// <summary>Most time that an answer waits for what is being made beside it: its refusal has to begin in time too.</summary>
    public static readonly TimeSpan Making = Answer - TimeSpan.FromSeconds(1);

    // A database that is slow, but hears, ends its work within that time of being asked to.
    private static readonly TimeSpan Ending = TimeSpan.FromSeconds(1);

    /// <summary>
    /// Runs work that is given up at the limit: a <see cref="TimeoutException"/>, and no cancellation of the caller's. Work that
    /// cannot be cancelled at once, such as opening a connection to a server that says nothing, is left to its own end.
    /// </summary>
    public static async Task<T> RunAsync<T>(TimeSpan most, Func<CancellationToken, Task<T>> work, CancellationToken cancel)
    {
        var limit = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        var running = work(limit.Token);
        var cancelling = Task.CompletedTask;
        try
        {
            return await running.WaitAsync(most, cancel);
        }
        catch (TimeoutException) when (!running.IsCompleted)
        {
            cancelling = CancelAsideAsync(limit);
            throw Over(most);
        }
        finally
        {
            DisposeAfter(limit, running, cancelling);
        }
    }

    /// <summary>
    /// Bounds the wait for every answer but those to batches, calculations and pictures: a batch or a picture may come slowly over a weak
    /// signal, a calculation waits its turn, and all are bounded where they are done. Once the answer has begun it may take its time, also
    /// one that never ends.
    /// </summary>
    public static void UseTimeLimit(this WebApplication app)
    {
        var log = app.Services.GetRequiredService<ILoggerFactory>().CreateLogger(typeof(TimeLimit));
        app.Use((context, next) =>
            CallKinds.Of(context) is CallKind.Intake or CallKind.Calculation || IsPicture(context.Request) ? next(context) : BoundAsync(context, next, log));
    }

    private static bool IsPicture(HttpRequest request) =>
        HttpMethods.IsPut(request.Method) && request.Path.StartsWithSegments(AttachmentEndpoints.Path, StringComparison.Ordinal);

    private static async Task BoundAsync(HttpContext context, RequestDelegate next, ILogger log)
    {
        var asked = context.RequestAborted;
        var limit = CancellationTokenSource.CreateLinkedTokenSource(asked);
        context.RequestAborted = limit.Token;
        var running = GoOnAsync(context, next);
        var cancelling = Task.CompletedTask;
        try
        {
            await running.WaitAsync(Answer);
        }
        catch (TimeoutException) when (!running.IsCompleted)
        {
            if (!context.Response.HasStarted)
            {
                cancelling = CancelAsideAsync(limit);
                await Task.WhenAny(running, Task.Delay(Ending, CancellationToken.None));
            }

            if (running.IsCompleted || context.Response.HasStarted) await EndAsync(running, limit, asked);
            else await AnswerInPlaceAsync(context, running, log, asked);
        }
        finally
        {
            context.RequestAborted = asked;
            DisposeAfter(limit, running, cancelling);
        }
    }

    // Whatever throws, throws in the task.
    private static async Task GoOnAsync(HttpContext context, RequestDelegate next) => await next(context);

    private static async Task EndAsync(Task running, CancellationTokenSource limit, CancellationToken asked)
    {
        try
        {
            await running;
        }
        catch (OperationCanceledException) when (limit.IsCancellationRequested && !asked.IsCancellationRequested)
        {
            throw Over(Answer);
        }
    }

    /// <summary>
    /// Answers in the place of work that does not end. What it has in hand stays its own until it does end: its connection to the
    /// database goes back or is given up then, and only then is the request over and what belongs to it used for another one.
    /// </summary>
    private static async Task AnswerInPlaceAsync(HttpContext context, Task running, ILogger log, CancellationToken asked)
    {
        log.LogWarning("The database did not answer within {Seconds:0} s, and {RequestPath} was answered for", Answer.TotalSeconds, context.Request.Path);
        context.Response.Headers.RetryAfter = "2";
        // The next request would wait for the end of this one.
        if (HttpProtocol.IsHttp11(context.Request.Protocol)) context.Response.Headers.Connection = "close";
        try
        {
            await Problems.WriteUntilAsync(context, Problems.Unavailable(), asked);
            await context.Response.CompleteAsync();
        }
        catch (OperationCanceledException)
        {
            // The caller has gone.
        }

        // However it ends, the caller has an answer.
        await running.ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
    }

    // On a thread of its own: where the server says nothing, the driver holds up whoever cancels until its own time is over, and
    // many of them would hold up the threads that answer.
    private static Task CancelAsideAsync(CancellationTokenSource limit) => Task.Factory.StartNew(
        limit.Cancel, CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default);

    private static void DisposeAfter(CancellationTokenSource limit, Task running, Task cancelling)
    {
        if (running.IsCompleted && cancelling.IsCompleted) limit.Dispose();
        else _ = Task.WhenAll(running, cancelling).ContinueWith(_ => limit.Dispose(), CancellationToken.None, TaskContinuationOptions.None, TaskScheduler.Default);
    }

    private static TimeoutException Over(TimeSpan most) => new($"The store took longer than {most.TotalSeconds:0} s.");
}

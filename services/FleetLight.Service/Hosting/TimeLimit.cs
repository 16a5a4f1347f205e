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

    /// <summary>
    /// Runs work that is given up at the limit: a <see cref="TimeoutException"/>, and no cancellation of the caller's. Work that
    /// cannot be cancelled at once, such as opening a connection to a server that says nothing, is left to its own end.
    /// </summary>
    public static async Task<T> RunAsync<T>(TimeSpan most, Func<CancellationToken, Task<T>> work, CancellationToken cancel)
    {
        var limit = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        var running = work(limit.Token);
        _ = running.ContinueWith(_ => limit.Dispose(), CancellationToken.None, TaskContinuationOptions.None, TaskScheduler.Default);
        try
        {
            return await running.WaitAsync(most, cancel);
        }
        catch (TimeoutException) when (!running.IsCompleted)
        {
            // Aside, for cancelling asks the server too, and waits for it.
            _ = limit.CancelAsync();
            throw Over(most);
        }
    }

    /// <summary>
    /// Bounds the wait for every answer but those to what is posted and to pictures: a batch or a picture may come slowly over a
    /// weak signal, and what they do is bounded where they do it. Once the answer has begun it may take its time, also one that never ends.
    /// </summary>
    public static void UseTimeLimit(this WebApplication app) => app.Use(async (context, next) =>
    {
        if (HttpMethods.IsPost(context.Request.Method)
            || (HttpMethods.IsPut(context.Request.Method) && context.Request.Path.StartsWithSegments(AttachmentEndpoints.Path, StringComparison.Ordinal)))
        {
            await next(context);
            return;
        }

        var asked = context.RequestAborted;
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(asked);
        var waiting = true;
        limit.CancelAfter(Answer);
        context.Response.OnStarting(() =>
        {
            // An answer without a body begins when the limit has served already.
            if (waiting) limit.CancelAfter(Timeout.InfiniteTimeSpan);
            return Task.CompletedTask;
        });
        context.RequestAborted = limit.Token;
        try
        {
            await next(context);
        }
        catch (OperationCanceledException) when (limit.IsCancellationRequested && !asked.IsCancellationRequested)
        {
            throw Over(Answer);
        }
        finally
        {
            waiting = false;
            context.RequestAborted = asked;
        }
    });

    private static TimeoutException Over(TimeSpan most) => new($"The store took longer than {most.TotalSeconds:0} s.");
}

using System.Text.Json;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Access;
using FleetLight.Service.Alerts;
using FleetLight.Service.Secrets;
using FleetLight.Service.Store;
using FleetLight.Service.Sync;

namespace FleetLight.Service.Subscriptions;

/// <summary>Wakes the worker of this node.</summary>
public sealed class SubscriptionSignal
{
    private readonly ChangeSignal signal = new();

    /// <summary>Ends when there is something to do after the call.</summary>
    public Task Next => signal.Next;

    /// <summary>There is something to do.</summary>
    public void Set() => signal.Set();
}

/// <summary>
/// Tells subscriptions, one thing after the other and in order, from the place that each has come to. A subscription is leased by
/// pushing its due time on; its place is written after each thing that was taken, so that after the death of a node at most one thing
/// comes twice, under the same id.
/// </summary>
public sealed class SubscriptionWorker(
    SubscriptionRows rows, ToldReader reader, ReceiverCalls calls, KeyHolders holders, SecretSeal seal, SealStanding standing, ChangeSignal changes,
    SubscriptionSignal signal, TimeProvider clock, DeliveryOptions options, DeliveryMetrics metrics, ILogger<SubscriptionWorker> log) : BackgroundService
{
    private const int MostAtOnce = 16;
    private const int MostInTurn = 200;
    private static readonly TimeSpan Gather = TimeSpan.FromMilliseconds(50);

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        var running = new List<Task>();
        while (!stoppingToken.IsCancellationRequested)
        {
            // Asked for before looking, so that what comes between looking and waiting is not slept through.
            Task[] wake = [changes.Next, signal.Next, Task.Delay(options.LookEvery, stoppingToken)];
            try
            {
                var due = running.Count < MostAtOnce
                    ? await rows.LeaseAsync(clock.GetUtcNow(), options.LeaseFor, MostAtOnce - running.Count, stoppingToken)
                    : [];
                running.AddRange(due.Select(each => TellAsync(each, stoppingToken)));
                if (due.Count == 0) await Task.WhenAny([.. wake, .. running]);
            }
            catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
            {
                break;
            }
            catch (Exception failed)
            {
                log.LogWarning(failed, "Subscriptions cannot be read; trying again");
                await Task.WhenAny(Task.Delay(options.LookEvery, stoppingToken));
            }

            running.RemoveAll(each => each.IsCompleted);
            // Pages of the projection follow each other closely: what they bring is told together.
            await Task.WhenAny(Task.Delay(Gather, stoppingToken));
        }

        await Task.WhenAll(running);
    }

    /// <summary>The id under which something is told to a subscription: it follows from both, so it is the same on every attempt and every replay.</summary>
    public static string MessageOf(Subscription to, Told what)
    {
        ArgumentNullException.ThrowIfNull(to);
        ArgumentNullException.ThrowIfNull(what);
        return EventIds.Of("told", to.Organisation, to.Id, what.Event.Source, what.Event.Id).ToString("N");
    }

    private async Task TellAsync(Subscription subscription, CancellationToken cancel)
    {
        // What is due in general must not wait for one that is slow, so each runs by itself.
        await Task.Yield();
        try
        {
            await TurnAsync(subscription, cancel);
        }
        catch (OperationCanceledException) when (cancel.IsCancellationRequested)
        {
            // The lease ends by itself, and another node goes on.
        }
        catch (Exception failed)
        {
            log.LogWarning(failed, "Subscription {Subscription} of {Organisation} cannot be told; trying again", subscription.Id, subscription.Organisation);
        }
    }

    private async Task TurnAsync(Subscription subscription, CancellationToken cancel)
    {
        var now = clock.GetUtcNow();
        if (subscription.Holder is { } holder && !await holders.StillAsync(subscription.Organisation, holder, Scope.Subscribe, cancel))
        {
            await rows.EndAsync(subscription, "The key that made it has ended.", cancel);
            log.LogInformation("Subscription {Subscription} of {Organisation} ended with its key", subscription.Id, subscription.Organisation);
            return;
        }

        var secrets = subscription.Secrets.Open(seal, subscription.Organisation, subscription.Id, now);
        standing.Saw(subscription.Id, secrets is not null);
        if (secrets is null)
        {
            // Another node may have what opens it: that is no attempt.
            await rows.WaitAsync(subscription, subscription.Attempts, "What signs could not be opened on the node that tried.", now + options.LookEvery, cancel);
            return;
        }

        await TellAgainAsync(subscription, secrets, cancel);
        var page = await reader.AfterAsync(subscription.Organisation, subscription.Filter, subscription.Place, MostInTurn, cancel);
        foreach (var what in page.Items)
        {
            if (await NextAsync(subscription, what, secrets, cancel) is not { } next) return;
            subscription = next;
        }

        // Done with it for now: whoever looks next may take it at once.
        await rows.PassAsync(subscription, page.Next, null, clock.GetUtcNow(), cancel);
        if (page.More) signal.Set();
    }

    // The subscription as it stands after that; none where its turn is over.
    private async Task<Subscription?> NextAsync(Subscription subscription, Told what, string[] secrets, CancellationToken cancel)
    {
        var message = MessageOf(subscription, what);
        var error = await SendAsync(subscription, message, what, secrets, subscription.Attempts + 1, cancel);
        var now = clock.GetUtcNow();
        if (error is null)
        {
            var passed = await rows.PassAsync(subscription, what.Place, now, now + options.LeaseFor, cancel);
            return passed ? subscription with { Place = what.Place, Attempts = 0 } : null;
        }

        var attempts = subscription.Attempts + 1;
        if (attempts < options.MostAttempts)
        {
            await rows.WaitAsync(subscription, attempts, error, now + options.Wait(attempts), cancel);
            return null;
        }

        await rows.ParkAsync(subscription, message, what, error, now, cancel);
        return await rows.PassAsync(subscription, what.Place, null, now + options.LeaseFor, cancel) ? subscription with { Place = what.Place, Attempts = 0 } : null;
    }

    private async Task TellAgainAsync(Subscription subscription, string[] secrets, CancellationToken cancel)
    {
        foreach (var parked in await rows.TakeAgainAsync(subscription, MostInTurn, cancel))
        {
            var what = await reader.AtAsync(subscription.Organisation, parked.Place, cancel);
            var error = what is null ? "It is no longer there." : await SendAsync(subscription, parked.Id, what, secrets, 1, cancel);
            if (error is null) await rows.UnparkAsync(subscription, parked.Id, cancel);
            else if (what is not null) await rows.ParkAsync(subscription, parked.Id, what, error, clock.GetUtcNow(), cancel);
        }
    }

    private async Task<string?> SendAsync(Subscription subscription, string message, Told what, string[] secrets, int attempt, CancellationToken cancel)
    {
        var began = clock.GetTimestamp();
        var body = JsonSerializer.Serialize(what.Event, WireJson.Lenient);
        var error = await calls.SendAsync(subscription.Id, subscription.Url, secrets, new Posted(message, Envelope.SingleMediaType, body), cancel);
        var state = error is null ? DeliveryState.Delivered : attempt >= options.MostAttempts ? DeliveryState.Parked : DeliveryState.Waiting;
        metrics.Tried(state, clock.GetElapsedTime(began));
        if (error is not null)
        {
            log.LogWarning("Message {Message} to subscription {Subscription} of {Organisation} {Standing} after attempt {Attempt}: {Error}",
                message, subscription.Id, subscription.Organisation, state == DeliveryState.Parked ? "is parked" : "waits", attempt, error);
        }
        else
        {
            log.LogDebug("Message {Message} to subscription {Subscription} of {Organisation} was taken", message, subscription.Id, subscription.Organisation);
        }

        return error;
    }
}

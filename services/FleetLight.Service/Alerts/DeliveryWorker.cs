using System.Diagnostics;
using System.Threading.Channels;
using FleetLight.Service.Hosting;
using FleetLight.Service.Secrets;
using FleetLight.Service.Store;
using FleetLight.Service.Sync;
using Marten;
using Npgsql;

namespace FleetLight.Service.Alerts;

/// <summary>Wakes the delivery worker of this node.</summary>
public sealed class DeliverySignal
{
    // One place is enough: being woken twice before looking is being woken once.
    private readonly Channel<bool> wake = Channel.CreateBounded<bool>(new BoundedChannelOptions(1) { FullMode = BoundedChannelFullMode.DropWrite });

    /// <summary>There is something to deliver.</summary>
    public void Set() => wake.Writer.TryWrite(true);

    /// <summary>Waits until there may be something, at most that long.</summary>
    public async Task WaitAsync(TimeSpan most, CancellationToken cancel)
    {
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        limit.CancelAfter(most);
        try
        {
            await wake.Reader.ReadAsync(limit.Token);
        }
        catch (OperationCanceledException) when (!cancel.IsCancellationRequested)
        {
            // The time is up: look anyway.
        }
    }
}

/// <summary>
/// Delivers alerts to webhooks. A delivery is leased for a while by pushing its due time on, so that two nodes do not send
/// it at once and one that dies in the middle leaves it to the next attempt, under the same id.
/// </summary>
public sealed class DeliveryWorker(
    IDocumentStore store, NpgsqlDataSource database, ReceiverCalls calls, DeliverySignal signal, ChangeSignal changes, TimeProvider clock,
    DeliveryOptions options, DeliveryMetrics metrics, SecretSeal seal, SealStanding standing, ILogger<DeliveryWorker> log) : BackgroundService
{
    private const string Lease =
        $"""
        update {Tables.Schema}.mt_doc_delivery as d set due_at = $2, data = jsonb_set(d.data, '{"{dueAt}"}', to_jsonb($3::text))
        from (select tenant_id, id from {Tables.Schema}.mt_doc_delivery where state = $4 and due_at <= $1
              order by due_at limit 50 for update skip locked) as due
        where d.tenant_id = due.tenant_id and d.id = due.id
        returning d.tenant_id, d.id
        """;

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        var waking = WakeAsync(stoppingToken);
        while (!stoppingToken.IsCancellationRequested)
        {
            try
            {
                var due = await LeaseAsync(stoppingToken);
                await Parallel.ForEachAsync(due, new ParallelOptions { MaxDegreeOfParallelism = 8, CancellationToken = stoppingToken },
                    async (each, cancel) => await DeliverAsync(each.Organisation, each.Id, cancel));
                if (due.Count == 0) await signal.WaitAsync(options.LookEvery, stoppingToken);
            }
            catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
            {
                break;
            }
            catch (Exception failed)
            {
                log.LogWarning(failed, "Deliveries cannot be read; trying again");
                await Task.Delay(options.LookEvery, stoppingToken);
            }
        }

        await waking;
    }

    private async Task WakeAsync(CancellationToken cancel)
    {
        try
        {
            while (true)
            {
                await changes.Next.WaitAsync(cancel);
                signal.Set();
            }
        }
        catch (OperationCanceledException)
        {
            // The service ends.
        }
    }

    private async Task<List<(string Organisation, string Id)>> LeaseAsync(CancellationToken cancel)
    {
        var now = clock.GetUtcNow();
        var until = now + options.LeaseFor;
        await using var command = database.CreateCommand(Lease);
        command.Parameters.Add(new NpgsqlParameter { Value = now });
        command.Parameters.Add(new NpgsqlParameter { Value = until });
        command.Parameters.Add(new NpgsqlParameter { Value = until.ToString("O", System.Globalization.CultureInfo.InvariantCulture) });
        command.Parameters.Add(new NpgsqlParameter { Value = (int)DeliveryState.Waiting });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var due = new List<(string, string)>();
        while (await reader.ReadAsync(cancel)) due.Add((reader.GetString(0), reader.GetString(1)));
        return due;
    }

    private async Task DeliverAsync(string organisation, string id, CancellationToken cancel)
    {
        await using var session = store.LightweightSession(organisation);
        if (await session.LoadAsync<Delivery>(id, cancel) is not { State: DeliveryState.Waiting } delivery) return;
        var webhook = await session.LoadAsync<Webhook>(delivery.WebhookId, cancel);
        if (webhook is { IsReadable: true }) await SealAsync(webhook, organisation, cancel);
        var secrets = webhook?.Secrets.Open(seal, organisation, webhook.Id, clock.GetUtcNow());
        if (webhook is not null) standing.Saw(webhook.Id, secrets is not null);
        // Another node may have what opens it: the lease ends by itself, and no attempt was made.
        if (webhook is not null && secrets is null) return;
        delivery.Attempts++;
        var began = clock.GetTimestamp();
        using var span = Tracing.StartLinked("deliver alert", ActivityKind.Client, [delivery.Trace]);
        var error = webhook is null
            ? "The webhook was removed."
            : await calls.SendAsync(webhook.Id, webhook.Url, secrets!, new Posted(delivery.Id, "application/json", delivery.Body), cancel);
        var now = clock.GetUtcNow();
        delivery.LastError = error;
        if (error is null)
            (delivery.State, delivery.DeliveredAt) = (DeliveryState.Delivered, now);
        else if (webhook is null || delivery.Attempts >= options.MostAttempts)
            delivery.State = DeliveryState.Parked;
        else
            delivery.DueAt = now + options.Wait(delivery.Attempts);
        session.Store(delivery);
        await session.SaveChangesAsync(cancel);
        Tell(organisation, delivery, clock.GetElapsedTime(began), span);
    }

    // A node of an earlier version that still runs makes webhooks with a readable secret. It is sealed where it stands, unless the webhook
    // was removed or its secret replaced meanwhile.
    private async Task SealAsync(Webhook webhook, string organisation, CancellationToken cancel)
    {
        var readable = webhook.Secret;
        webhook.SealAgain(seal, organisation);
        await using var command = database.CreateCommand(
            $"""
            update {Tables.Schema}.mt_doc_webhook set data = data || jsonb_build_object('secret', $4::text, 'sealed', $5::text)
            where tenant_id = $1 and id = $2 and data ->> 'secret' = $3
            """);
        foreach (var value in (string[])[organisation, webhook.Id, readable, webhook.Secret, webhook.Sealed!])
            command.Parameters.Add(new NpgsqlParameter { Value = value });
        await command.ExecuteNonQueryAsync(cancel);
    }

    private void Tell(string organisation, Delivery delivery, TimeSpan took, Activity? span)
    {
        metrics.Tried(delivery.State, took);
        span.OfFacts(delivery.FactIds ?? [])
            ?.SetTag("fleetlight.organisation", organisation).SetTag("fleetlight.delivery.id", delivery.Id)
            .SetTag("fleetlight.alert.id", delivery.AlertId).SetTag(Measures.Outcome, DeliveryMetrics.OutcomeOf(delivery.State))
            .SetStatus(delivery.State == DeliveryState.Delivered ? ActivityStatusCode.Unset : ActivityStatusCode.Error, delivery.LastError);
        ServiceLog.OfFacts(log, delivery.FactIds ?? [], () =>
        {
            if (delivery.State == DeliveryState.Delivered)
            {
                log.LogInformation("Delivery {Delivery} of alert {AlertId} to webhook {Webhook} of {Organisation} was taken at attempt {Attempt}",
                    delivery.Id, delivery.AlertId, delivery.WebhookId, organisation, delivery.Attempts);
            }
            else
            {
                log.LogWarning("Delivery {Delivery} of alert {AlertId} to webhook {Webhook} of {Organisation} {Standing} after attempt {Attempt}: {Error}",
                    delivery.Id, delivery.AlertId, delivery.WebhookId, organisation,
                    delivery.State == DeliveryState.Parked ? "is parked" : "waits", delivery.Attempts, delivery.LastError);
            }
        });
    }
}

/// <summary>How deliveries are tried.</summary>
public sealed record DeliveryOptions
{
    /// <summary>How often to look for due deliveries when nothing wakes the worker.</summary>
    public TimeSpan LookEvery { get; init; } = TimeSpan.FromSeconds(5);

    /// <summary>How long an attempt may take altogether before another node may try.</summary>
    public TimeSpan LeaseFor { get; init; } = TimeSpan.FromMinutes(2);

    /// <summary>How long one request may take.</summary>
    public TimeSpan Timeout { get; init; } = TimeSpan.FromSeconds(10);

    /// <summary>First wait within an attempt.</summary>
    public TimeSpan ShortWait { get; init; } = TimeSpan.FromMilliseconds(500);

    /// <summary>How long a receiver that keeps failing is left alone.</summary>
    public TimeSpan BreakFor { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>Wait after the first attempt; doubled after each, at most 6 hours.</summary>
    public TimeSpan FirstWait { get; init; } = TimeSpan.FromSeconds(30);

    /// <summary>Attempts before a delivery is parked: with the waits above about two days.</summary>
    public int MostAttempts { get; init; } = 16;

    /// <summary>Wait after that many attempts.</summary>
    public TimeSpan Wait(int attempts) =>
        TimeSpan.FromSeconds(Math.Min(TimeSpan.FromHours(6).TotalSeconds, FirstWait.TotalSeconds * Math.Pow(2, attempts - 1)));
}

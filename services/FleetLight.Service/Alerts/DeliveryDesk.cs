using System.Text.Json;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Alerts;
using FleetLight.Service.Hosting;
using FleetLight.Service.Store;
using FleetLight.Service.Works;
using JasperFx.Events;
using Marten;

namespace FleetLight.Service.Alerts;

/// <summary>Makes the deliveries that alert events call for, with the projection's other changes.</summary>
public static class DeliveryDesk
{
    /// <summary>One delivery for each webhook and each alert that was raised or cleared.</summary>
    public static async Task QueueAsync(
        IQuerySession session, PageWrites writes, string organisation, IEnumerable<IEvent> events, IReadOnlyDictionary<string, AlertView> alerts,
        CancellationToken cancel)
    {
        var told = events.Where(each => each.Data is AlertRaised or AlertCleared).ToArray();
        if (told.Length == 0) return;
        var webhooks = await session.Query<Webhook>().ToListAsync(cancel);
        foreach (var each in told)
        {
            var alert = alerts[AlertEvents.AlertOf(each.StreamKey!)];
            var type = each.Data is AlertRaised ? "alert.raised" : "alert.cleared";
            foreach (var webhook in webhooks)
            {
                if (webhook.Rules is { Length: > 0 } rules && !rules.Contains(alert.Finding.Rule)) continue;
                writes.Store(new Delivery
                {
                    Id = EventIds.Of("delivery", organisation, webhook.Id, each.Id.ToString("N")).ToString("N"),
                    WebhookId = webhook.Id,
                    Type = type,
                    AlertId = alert.Id,
                    FactIds = [.. each.Data is AlertCleared cleared ? cleared.ClearedBy : alert.Finding.Evidence],
                    Trace = Tracing.Mark,
                    Body = JsonSerializer.Serialize(new AlertMessage(type, each.Timestamp, alert), WireJson.Lenient),
                    State = DeliveryState.Waiting,
                    DueAt = each.Timestamp,
                    CreatedAt = each.Timestamp,
                });
            }
        }
    }
}

/// <summary>Body of a delivery.</summary>
/// <param name="Type"><c>alert.raised</c> or <c>alert.cleared</c>.</param>
/// <param name="Timestamp">When it became known.</param>
/// <param name="Data">The alert.</param>
public sealed record AlertMessage(string Type, DateTimeOffset Timestamp, AlertView Data);

using FleetLight.Contracts.Views;
using FleetLight.Record.Alerts;
using FleetLight.Service.Store;
using Marten.Events;

namespace FleetLight.Service.Alerts;

/// <summary>How alerts stand in the store: one stream an alert, fixed names of events.</summary>
public static class AlertEvents
{
    private const string Prefix = "alert:";

    /// <summary>Gives the alert events their stored names.</summary>
    public static void Map(IEventStoreOptions events)
    {
        events.MapEventType<AlertRaised>("fleetlight.alert.raised.v1");
        events.MapEventType<AlertUpdated>("fleetlight.alert.updated.v1");
        events.MapEventType<AlertAcknowledged>("fleetlight.alert.acknowledged.v1");
        events.MapEventType<AlertCleared>("fleetlight.alert.cleared.v1");
    }

    /// <summary>Stream of an alert.</summary>
    public static string StreamOf(string alertId) => Prefix + alertId;

    /// <summary>The alert of a stream.</summary>
    public static string AlertOf(string stream) => stream[Prefix.Length..];

    /// <summary>The document of an alert.</summary>
    public static AlertDocument Document(AlertView view) => new()
    {
        Id = view.Id,
        SiteId = view.SiteId,
        Standing = view.Standing,
        Severity = view.Finding.Severity,
        Rule = view.Finding.Rule,
        View = view,
    };
}

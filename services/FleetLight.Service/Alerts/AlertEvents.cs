using System.Collections.Frozen;
using FleetLight.Contracts.Views;
using FleetLight.Record.Alerts;
using FleetLight.Service.Store;
using Marten.Events;

namespace FleetLight.Service.Alerts;

/// <summary>How alerts stand in the store: one stream an alert, fixed names of events.</summary>
public static class AlertEvents
{
    private const string Prefix = "alert:";

    /// <summary>Stored name of an alert that was raised.</summary>
    public const string Raised = "fleetlight.alert.raised.v1";

    /// <summary>Stored name of an alert that was cleared.</summary>
    public const string Cleared = "fleetlight.alert.cleared.v1";

    /// <summary>The stored names of the alert events, and their types.</summary>
    public static readonly FrozenDictionary<string, Type> Names = new Dictionary<string, Type>
    {
        [Raised] = typeof(AlertRaised),
        ["fleetlight.alert.updated.v1"] = typeof(AlertUpdated),
        ["fleetlight.alert.acknowledged.v1"] = typeof(AlertAcknowledged),
        [Cleared] = typeof(AlertCleared),
    }.ToFrozenDictionary(StringComparer.Ordinal);

    /// <summary>Gives the alert events their stored names.</summary>
    public static void Map(IEventStoreOptions events)
    {
        foreach (var (name, type) in Names) events.MapEventType(type, name);
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

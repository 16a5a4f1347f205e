using System.Text.Json;

namespace FleetLight.Contracts.Views;

/// <summary>What is told to subscriptions and in streams.</summary>
public enum ToldKind
{
    /// <summary>Facts, as they were handed in.</summary>
    Facts,

    /// <summary>Alerts that were raised or cleared.</summary>
    Alerts,

    /// <summary>That the state of a thing changed: fetch it again.</summary>
    Changes,
}

/// <summary>
/// One thing that is told, a CloudEvents 1.0 event in its JSON form. <c>source</c> and <c>id</c> together name it: take each once.
/// A fact is the event that its device handed in; its type is that of the fact.
/// </summary>
public sealed record ToldEvent
{
    /// <summary>Version of CloudEvents.</summary>
    public string Specversion { get; init; } = "1.0";

    /// <summary>Unique within the source, for ever.</summary>
    public required string Id { get; init; }

    /// <summary>Of a fact the device; else whose alerts or changes these are.</summary>
    public required string Source { get; init; }

    /// <summary>Type of the fact with its version, <c>fleetlight.alert.raised.v1</c>, <c>fleetlight.alert.cleared.v1</c> or <c>fleetlight.thing.changed.v1</c>.</summary>
    public required string Type { get; init; }

    /// <summary>What it is about: of a fact its site, of an alert its id, of a change kind and id of the thing with a slash between.</summary>
    public required string Subject { get; init; }

    /// <summary>When it happened: of a fact by the device's own clock as sent, of an alert when it was known; of a change there is none.</summary>
    public DateTimeOffset? Time { get; init; }

    /// <summary>Media type of the data.</summary>
    public string Datacontenttype { get; init; } = "application/json";

    /// <summary>Its place in what is told: go on from here.</summary>
    public required string Cursor { get; init; }

    /// <summary>Of a fact, the device's running number, a count.</summary>
    public int? Runningnumber { get; init; }

    /// <summary>Of a fact, when it happened, corrected by the clock error that the device showed.</summary>
    public DateTimeOffset? Happenedtime { get; init; }

    /// <summary>Of a fact, when it was known: the server's clock.</summary>
    public DateTimeOffset? Recordedtime { get; init; }

    /// <summary>Of a fact its data as sent, of an alert the alert as it stood then, of a change the change.</summary>
    public required JsonElement Data { get; init; }
}

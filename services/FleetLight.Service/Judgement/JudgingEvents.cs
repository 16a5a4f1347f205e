using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;
using FleetLight.Service.Works;
using Marten.Events;

namespace FleetLight.Service.Judgement;

/// <summary>An organisation set how its circuits are judged.</summary>
public sealed record JudgingSet
{
    /// <summary>Counts up from 1.</summary>
    public required int Version { get; init; }

    /// <summary>What is not at its default.</summary>
    public required JudgingSettings Settings { get; init; }

    /// <summary>Name of the key by whose holder it was set.</summary>
    public required string By { get; init; }

    /// <summary>When.</summary>
    public required DateTimeOffset At { get; init; }

    /// <summary>
    /// How far in the change feed the circuits were known that are asked to be judged again: those that came or changed between there and
    /// here were folded by the settings before. None in events from before this was kept.
    /// </summary>
    public long? KnownThrough { get; init; }
}

/// <summary>Circuits to be judged again since the settings changed. A few hundred an event, so that no page grows long.</summary>
public sealed record CircuitsToJudgeAgain
{
    /// <summary>The circuits.</summary>
    public required string[] CircuitIds { get; init; }
}

/// <summary>How the settings stand in the store: two streams, fixed names of events.</summary>
public static class JudgingEvents
{
    /// <summary>What a device's source may not begin with: the streams here do.</summary>
    public const string Prefix = "judging:";

    /// <summary>Stream of the settings.</summary>
    public const string SettingsStream = Prefix + "settings";

    /// <summary>Stream of the circuits to be judged again.</summary>
    public const string AgainStream = Prefix + "again";

    /// <summary>The settings in force as the projection keeps them.</summary>
    public static async Task<Judging> InForceAsync(StateRows rows, CancellationToken cancel) =>
        await rows.FindAsync<Judging>(StateKinds.Judging, StateKinds.Settings, cancel) ?? Judging.Default;

    /// <summary>Gives the events their stored names.</summary>
    public static void Map(IEventStoreOptions events)
    {
        events.MapEventType<JudgingSet>("fleetlight.judging.set.v1");
        events.MapEventType<CircuitsToJudgeAgain>("fleetlight.judging.again.v1");
    }
}

using FleetLight.Service.Judgement;
using Marten.Events;

namespace FleetLight.Service.Works;

/// <summary>Somebody mended what made these fail: facts and things that were set aside are to be taken in again.</summary>
public sealed record ToTakeInAgain
{
    /// <summary>The stream of these events: of the kind that no device's source may be.</summary>
    public const string Stream = JudgingEvents.Prefix + "set-aside";

    /// <summary>Events of the facts.</summary>
    public required Guid[] Events { get; init; }

    /// <summary>Things, as <c>kind:id</c>.</summary>
    public required string[] Things { get; init; }

    /// <summary>Name of the key by whose holder it was asked for.</summary>
    public required string By { get; init; }

    /// <summary>When.</summary>
    public required DateTimeOffset At { get; init; }

    /// <summary>Gives the event its stored name.</summary>
    public static void Map(IEventStoreOptions events) => events.MapEventType<ToTakeInAgain>("fleetlight.set-aside.again.v1");
}

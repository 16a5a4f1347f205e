using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Works;
using FleetLight.Service.Store;
using JasperFx.Events;

namespace FleetLight.Service.Works;

/// <summary>The smallest piece of a page, and so the smallest that can be set aside: an event, a fact or a thing to be taken in again.</summary>
public sealed record PageUnit
{
    private PageUnit()
    {
    }

    /// <summary>The event of the page.</summary>
    public IEvent? Event { get; private init; }

    /// <summary>The event's id, or that of the fact.</summary>
    public Guid Id { get; private init; }

    /// <summary>The fact.</summary>
    public RecordedFact? Fact { get; private init; }

    /// <summary>A thing to be folded again.</summary>
    public ThingRef? Thing { get; private init; }

    /// <summary>An event of the page.</summary>
    public static PageUnit Of(IEvent happened) =>
        new() { Event = happened, Id = happened.Id, Fact = happened.Data is IKept kept ? new RecordedFact(kept.Of, kept.Fact) : null };

    /// <summary>A fact that was set aside before.</summary>
    public static PageUnit Again(Guid eventId, RecordedFact fact) => new() { Id = eventId, Fact = fact };

    /// <summary>A thing to be folded again.</summary>
    public static PageUnit Again(ThingRef thing) => new() { Thing = thing };

    /// <summary>The first thing that the fact touches; none where that cannot be said.</summary>
    public ThingRef? Touched()
    {
        if (Fact is null) return Thing;
        try
        {
            return Fact.Data is ReadingTaken reading
                ? new ThingRef(ThingKind.Circuit, reading.CircuitId)
                : Routing.Touches(Fact.Data) is [var first, ..] ? first : null;
        }
        catch (Exception fault) when (Poison.Is(fault, CancellationToken.None))
        {
            return null;
        }
    }
}

using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Record.Corrections;

namespace FleetLight.Record.Positions;

/// <summary>What one fact says of where a thing is.</summary>
/// <param name="Fact">The fact, <c>source#id</c>.</param>
/// <param name="At">When it was measured.</param>
/// <param name="SiteId">The site whose reference points it means.</param>
/// <param name="Position">A position.</param>
public sealed record MeasuredPlace(string Fact, DateTimeOffset At, string SiteId, GeoPoint? Position)
{
    /// <summary>Tapes from reference points.</summary>
    public IReadOnlyList<Tape>? Tapes { get; init; }

    /// <summary>An offset from a baseline.</summary>
    public BaselineOffset? Offset { get; init; }

    /// <summary>The side of the line between the first two tapes' reference points.</summary>
    public SideOfLine? Side { get; init; }

    /// <summary>Whether it says where it is at all.</summary>
    public bool SaysWhere => Position is not null || Tapes is not null || Offset is not null;

    /// <summary>Whether it says more than where: how, how well, or by which tapes.</summary>
    public bool SaysHow => Tapes is not null || Offset is not null || Position is { AccuracyMetres: not null } or { Method: not null };

    /// <summary>What a fact about the thing said of its position along with other things.</summary>
    public static MeasuredPlace? Of<T>(Counted<T> fact, GeoPoint? position)
        where T : IFact
    {
        ArgumentNullException.ThrowIfNull(fact);
        return SoundGround.Sound(position) is null ? null : new(fact.Key, fact.At, fact.Data.SiteId, position);
    }

    /// <summary>What a fact of measuring says.</summary>
    public static MeasuredPlace Of(Counted<PlaceMeasured> fact)
    {
        ArgumentNullException.ThrowIfNull(fact);
        return new(fact.Key, fact.At, fact.Data.SiteId, SoundGround.Sound(fact.Data.Position))
        {
            Tapes = SoundGround.Sound(fact.Data.Tapes, 2),
            Offset = SoundGround.Sound(fact.Data.Offset),
            Side = fact.Data.Side,
        };
    }
}

using System.Globalization;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;

namespace FleetLight.PageParts.Wording;

/// <summary>Where a thing is and how well that is known, in plain words. Advice: locate services before the ground is opened.</summary>
public static class PlaceWords
{
    /// <summary>What stands with every distance by which something in the ground is to be found.</summary>
    public const string Caution = "A recorded place is advice. Locate buried services before the ground is opened, and dig by hand near them, as local rules ask.";

    /// <summary>How it was measured, to be put behind the thing.</summary>
    public static string Way(PlaceMeasured place)
    {
        ArgumentNullException.ThrowIfNull(place);
        return place.Tapes is { } tapes ? $" by {tapes.Length.ToString(CultureInfo.InvariantCulture)} tapes" : place.Offset is not null ? " by an offset" : " by position";
    }

    /// <summary>How well a place is known, or why there is none.</summary>
    public static string HowWell(PlacementView place)
    {
        ArgumentNullException.ThrowIfNull(place);
        if (place.Standing != PlacementStanding.Placed) return PlainWords.Of(place.Standing).ToLowerInvariant();
        var method = place.Method is { } known ? PlainWords.Of(known).ToLowerInvariant() : "how it was found was not said";
        return place.AccuracyMetres is { } metres ? $"{method}, within {Length(metres)}" : method;
    }

    /// <summary>The tapes of a place as they were read: <c>2.40 m from the corner of the garage</c>; none where it has none.</summary>
    /// <param name="place">The place.</param>
    /// <param name="nameOf">What the reference points of an offset are called, by their ids; the ids where absent.</param>
    public static string? Tapes(PlacementView place, Func<string, string>? nameOf = null)
    {
        ArgumentNullException.ThrowIfNull(place);
        if (place.Tapes is { Count: > 0 } tapes)
            return string.Join(", ", tapes.Select(tape => $"{Metres(tape.DistanceMetres)} from {tape.Name ?? tape.From}{(tape.Suspect ? " (does not fit)" : "")}"));
        return place.Offset is { } offset
            ? $"{Metres(offset.AlongMetres)} along from {Name(offset.From)} towards {Name(offset.To)}, {Metres(offset.SquareMetres)} square to the "
                + (offset.Side == SideOfLine.Left ? "left" : "right")
            : null;

        string Name(string point) => nameOf?.Invoke(point) ?? point;
    }

    /// <summary>The distances by which it is found, as worked out; none where none is known well enough.</summary>
    public static string? FindBy(PlacementView place)
    {
        ArgumentNullException.ThrowIfNull(place);
        return place.FindBy is { Count: > 0 } found
            ? string.Join(", ", found.Select(Found))
            : null;
    }

    private static string Found(FindByView found) =>
        $"{Metres(found.DistanceMetres)} ± {found.AccuracyMetres.ToString("0.00", CultureInfo.InvariantCulture)} from {found.Name ?? found.From}";

    private static string Metres(double metres) => metres.ToString("0.00", CultureInfo.InvariantCulture) + " m";

    // A phone knows whole metres; a tape centimetres.
    private static string Length(double metres) => metres >= 1
        ? Math.Ceiling(metres).ToString("0", CultureInfo.InvariantCulture) + " m"
        : Math.Ceiling(metres * 100).ToString("0", CultureInfo.InvariantCulture) + " cm";
}

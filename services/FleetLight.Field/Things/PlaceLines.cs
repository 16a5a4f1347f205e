using System.Globalization;
using FleetLight.Contracts.Views;
using FleetLight.PageParts.Wording;

namespace FleetLight.Field.Things;

/// <summary>How to find a thing again: what a thing's record says of its place. Pure.</summary>
internal static class PlaceLines
{
    /// <summary>The lines of a placement.</summary>
    public static IEnumerable<(string Name, string? Says)> Of(PlacementView? place)
    {
        if (place is null) yield break;
        yield return ("Its place", PlaceWords.HowWell(place));
        yield return ("Taped", PlaceWords.Tapes(place));
        yield return ("Find it by tape", PlaceWords.FindBy(place));
        foreach (var note in place.Notes ?? []) yield return ("Mind", note);
    }

    /// <summary>The lines of the measured points of a duct or cable.</summary>
    public static IEnumerable<(string Name, string? Says)> Of(IReadOnlyList<RunPointView>? points)
    {
        foreach (var point in points ?? [])
        {
            var name = point.End is { } end
                ? $"The {PlainWords.InSentence(end)}"
                : $"At {(point.ChainageMetres ?? 0).ToString("0.##", CultureInfo.InvariantCulture)} m along it";
            var found = PlaceWords.FindBy(point.Placement) ?? PlaceWords.Tapes(point.Placement);
            yield return (name, PlaceWords.HowWell(point.Placement) + (found is null ? "" : $"; {found}"));
        }
    }
}

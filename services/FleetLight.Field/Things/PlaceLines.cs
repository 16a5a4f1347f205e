using System.Globalization;
using FleetLight.Contracts.Views;
using FleetLight.Field.Sites;
using FleetLight.PageParts.Wording;

namespace FleetLight.Field.Things;

/// <summary>How to find a thing again: what a thing's record says of its place. Pure.</summary>
internal static class PlaceLines
{
    /// <summary>The lines of a placement.</summary>
    /// <param name="place">The placement.</param>
    /// <param name="site">The site, for the names of its reference points.</param>
    public static IEnumerable<(string Name, string? Says)> Of(PlacementView? place, ISiteState site)
    {
        if (place is null) yield break;
        yield return ("Its place", PlaceWords.HowWell(place));
        yield return ("On the site's own plan", OnPlan(place));
        yield return (place.Offset is null ? "Taped" : "Measured", PlaceWords.Tapes(place, NamesOf(site)));
        yield return ("Find it by tape", PlaceWords.FindBy(place));
        foreach (var note in place.Notes ?? []) yield return ("Mind", note);
    }

    /// <summary>The lines of the measured points of a duct or cable.</summary>
    /// <param name="points">The points.</param>
    /// <param name="site">The site, for the names of its reference points.</param>
    public static IEnumerable<(string Name, string? Says)> Of(IReadOnlyList<RunPointView>? points, ISiteState site)
    {
        foreach (var point in points ?? [])
        {
            var name = point.End is { } end
                ? $"The {PlainWords.InSentence(end)}"
                : $"At {(point.ChainageMetres ?? 0).ToString("0.##", CultureInfo.InvariantCulture)} m along it";
            yield return (name, InOneLine(point.Placement, site));
        }
    }

    /// <summary>A placement in one line: how well it is known, and by which distances it is found.</summary>
    public static string InOneLine(PlacementView place, ISiteState site)
    {
        var found = PlaceWords.FindBy(place) ?? PlaceWords.Tapes(place, NamesOf(site)) ?? OnPlan(place);
        return PlaceWords.HowWell(place) + (found is null ? "" : $"; {found}");
    }

    private static string? OnPlan(PlacementView place) => place.Local is { } local ? $"{Metres(local.XMetres)} to the right, {Metres(local.YMetres)} upwards" : null;

    private static string Metres(double metres) => metres.ToString("0.00", CultureInfo.InvariantCulture) + " m";

    private static Func<string, string> NamesOf(ISiteState site)
    {
        var points = site.SiteId is { } id ? site.Works.SiteOf(id)?.ReferencePoints : null;
        return point => points?.FirstOrDefault(each => each.PointId == point)?.Name ?? point;
    }
}

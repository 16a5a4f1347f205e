using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Rules.Ducts;

namespace FleetLight.Record.OpenPoints;

/// <summary>What is missing on a duct: a string, plugs, labels.</summary>
internal static class DuctPoints
{
    private static readonly RunEnd[] Ends = [RunEnd.Near, RunEnd.Far];

    public static void Add(DuctView duct, string site, ICollection<OpenPoint> into)
    {
        var points = new PointMaker(ThingKind.Duct, duct, LabelOf(duct), into);
        if (duct.LengthMetres is null)
        {
            points.Add(
                "laid", "It is not recorded how the duct was laid.", "Record its service, colour, wall, bore, length and depth before it is covered.",
                WorkPhase.BeforeCover,
                [
                    Ticks.Of<DuctLaid>(
                        "Laid", ["service", "colour", "wall", "boreMillimetres", "lengthMetres"], ("siteId", site), ("ductId", duct.Id)),
                ]);
        }

        // A pipe of another trade: what is asked of a duct for cables is asked of it only where a cable lies in it.
        var isPipe = duct.Service is DuctService.Water or DuctService.Gas;
        if (duct.LengthMetres is not null || duct.CableIds.Count > 0)
        {
            if (!isPipe || duct.CableIds.Count > 0) AddPlugs(duct, site, points);
            if (!isPipe) AddString(duct, site, points);
            AddLabels(duct, site, points);
        }

        points.AddRest();
    }

    /// <summary>What people call a duct.</summary>
    public static string LabelOf(DuctView duct) =>
        duct.Labels?.GetValueOrDefault(RunEnd.Near) ?? duct.Labels?.GetValueOrDefault(RunEnd.Far) ?? duct.Id;

    /// <summary>Where an end comes up, in words.</summary>
    public static string? PlaceOf(DuctView duct, RunEnd end) => end == RunEnd.Near ? duct.NearEndAt : duct.FarEndAt;

    /// <summary>Where an end comes up, by its route.</summary>
    public static GeoPoint? PositionOf(DuctView duct, RunEnd end) => duct.Route is { Coordinates.Length: > 0 } route
        ? new GeoPoint { Type = "Point", Coordinates = end == RunEnd.Near ? route.Coordinates[0] : route.Coordinates[^1] }
        : null;

    private static void AddPlugs(DuctView duct, string site, PointMaker points)
    {
        var found = points.Take(DuctLeftOpen.Rule.Id);
        foreach (var end in Ends)
        {
            if (duct.PluggedEnds.Contains(end)) continue;
            points.Add(
                $"plugged:{Files.Words.Of(end)}",
                duct.LastPullAt is null ? $"The {Files.Words.Of(end)} end is not plugged." : $"The {Files.Words.Of(end)} end was not plugged since the last pull.",
                "Plug it against water and vermin.", WorkPhase.BeforeCover, [Ticks.Plugged(site, duct.Id, end)],
                found is null ? null : [found], $"{Files.Words.Of(end)} end", PlaceOf(duct, end), PositionOf(duct, end));
        }
    }

    private static void AddString(DuctView duct, string site, PointMaker points)
    {
        var found = points.Take(NoStringLeft.Rule.Id);
        if (duct.StringInside) return;
        (StringMethod Method, string Says)[] ways =
        [
            (StringMethod.Pulled, "String pulled in"), (StringMethod.LaidIn, "String was laid in"),
            (StringMethod.Blown, "String blown in"), (StringMethod.PushedByRod, "String pushed in by rod"),
        ];
        // A string that lay in the duct went out with the cable that it pulled.
        var taken = duct.CableIds.Count == 0 ? ways : ways.Where(way => way.Method != StringMethod.LaidIn);
        points.Add(
            "string", duct.CableIds.Count == 0 ? "No draw string is in it." : "No string was left in it after the last pull.",
            "Leave a string in it for the next cable, tied off at both ends.", WorkPhase.BeforeCover,
            [.. taken.Select(way => Ticks.Left(site, duct.Id, way.Method, way.Says))], found is null ? null : [found],
            place: duct.NearEndAt, position: PositionOf(duct, RunEnd.Near));
    }

    private static void AddLabels(DuctView duct, string site, PointMaker points)
    {
        var found = points.Take(DuctUnlabelled.Rule.Id);
        foreach (var end in Ends)
        {
            if (duct.Labels?.ContainsKey(end) == true) continue;
            points.Add(
                $"label:{Files.Words.Of(end)}", $"The {Files.Words.Of(end)} end bears no label.", "Label it, so that nobody has to guess by its colour.",
                WorkPhase.BeforeCover, [Ticks.DuctLabelled(site, duct.Id, end, LabelOf(duct))], found is null ? null : [found],
                $"{Files.Words.Of(end)} end", PlaceOf(duct, end), PositionOf(duct, end));
        }
    }
}

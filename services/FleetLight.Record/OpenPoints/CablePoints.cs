using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Files;
using FleetLight.Record.Rules.Cables;

namespace FleetLight.Record.OpenPoints;

/// <summary>What is missing on a cable: labels, and sleeves that show the polarity of its cores.</summary>
internal static class CablePoints
{
    private static readonly RunEnd[] Ends = [RunEnd.Near, RunEnd.Far];

    private static readonly CorePolarity[] Polarities = [CorePolarity.Positive, CorePolarity.Negative, CorePolarity.SeriesLink];

    public static void Add(CableView cable, string site, IReadOnlyDictionary<string, DuctView> ducts, ICollection<OpenPoint> into)
    {
        var points = new PointMaker(ThingKind.Cable, cable, LabelOf(cable), into)
        {
            Circuits = [.. cable.Cores.Select(core => core.CircuitId).OfType<string>().Distinct().Order(StringComparer.Ordinal)],
        };
        if (cable.PulledAt is null)
        {
            points.Add(
                "pulled", "It is not recorded that the cable was pulled.", "Record its ducts, length, area and cores.", WorkPhase.BeforeCover,
                [Pulled(site, cable.Id)]);
        }

        AddLabels(cable, site, ducts, points);
        AddSleeves(cable, site, ducts, points);
        points.AddRest(finding => finding.Rule == PolaritySleeveWrong.Rule.Id ? Sleeving(cable, site, finding) : []);
    }

    /// <summary>What people call a cable.</summary>
    public static string LabelOf(CableView cable) =>
        cable.Labels?.GetValueOrDefault(RunEnd.Near) ?? cable.Labels?.GetValueOrDefault(RunEnd.Far) ?? cable.Id;

    /// <summary>The fact that a cable was pulled, as far as a design tells it.</summary>
    public static TickOff Pulled(string site, string? cable, RunDesign? run = null) => Ticks.Of<CablePulled>(
        "Pulled",
        [
            .. cable is null ? ["cableId"] : Array.Empty<string>(), "ductIds", "lengthMetres",
            .. run is null ? ["areaSquareMillimetres", "conductorClass"] : Array.Empty<string>(), "cores",
        ],
        ("siteId", site), ("cableId", cable), ("areaSquareMillimetres", run?.AreaSquareMillimetres),
        ("conductorClass", run is null ? null : Words.Of(run.ConductorClass)));

    // A cable's end comes up where that of its first or last duct does; which way the duct was drawn does not tell which.
    private static string? PlaceOf(CableView cable, RunEnd end, IReadOnlyDictionary<string, DuctView> ducts)
    {
        if (cable.DuctIds.Count == 0) return null;
        return ducts.TryGetValue(cable.DuctIds[end == RunEnd.Near ? 0 : ^1], out var duct) ? DuctPoints.PlaceOf(duct, end) : null;
    }

    private static void AddLabels(CableView cable, string site, IReadOnlyDictionary<string, DuctView> ducts, PointMaker points)
    {
        var found = points.Take(CableUnlabelled.Rule.Id);
        if (cable.PulledAt is null && found is null) return;
        foreach (var end in Ends)
        {
            if (cable.Labels?.ContainsKey(end) == true) continue;
            points.Add(
                $"label:{Words.Of(end)}", $"The {Words.Of(end)} end bears no label.", "Label it, before the box is closed over it.",
                WorkPhase.BeforeEnergising, [Ticks.CableLabelled(site, cable.Id, end, LabelOf(cable))], found is null ? null : [found],
                $"{Words.Of(end)} end", PlaceOf(cable, end, ducts));
        }
    }

    // The rule looks at jointed cores that bear no sleeve at all; the list asks for both ends of each core that carries a circuit.
    private static void AddSleeves(CableView cable, string site, IReadOnlyDictionary<string, DuctView> ducts, PointMaker points)
    {
        var found = points.Take(PolaritySleeveMissing.Rule.Id);
        foreach (var core in cable.Cores)
        {
            if (core.Use != CoreUse.Circuit) continue;
            foreach (var end in Ends)
            {
                if (core.Sleeves.ContainsKey(end)) continue;
                // Which polarity a core has is measured, never guessed: only what its other end says is offered alone.
                var ticks = core.Sleeves.Count > 0 ? [core.Sleeves.Values.First()] : Polarities;
                points.Add(
                    $"sleeve:{core.Core}:{Words.Of(end)}", $"Core {core.Core} bears no polarity sleeve at its {Words.Of(end)} end.",
                    "Prove its polarity, sleeve it and record it; both ends alike.", WorkPhase.BeforeEnergising,
                    [.. ticks.Select(polarity => Ticks.Sleeved(site, cable.Id, core.Core, end, polarity))],
                    found is not null && core.Sleeves.Count == 0 ? [found] : null, $"core {core.Core}, {Words.Of(end)} end",
                    PlaceOf(cable, end, ducts));
            }
        }
    }

    private static List<TickOff> Sleeving(CableView cable, string site, Finding finding)
    {
        const string EndsDiffer = "ends:";
        var core = finding.Cause.StartsWith(EndsDiffer, StringComparison.Ordinal) ? finding.Cause[EndsDiffer.Length..] : null;
        return
        [
            Ticks.Of<CoreSleeved>(
                "Sleeved anew", [.. core is null ? ["core"] : Array.Empty<string>(), "polarity", "end"],
                ("siteId", site), ("cableId", cable.Id), ("core", core)),
        ];
    }
}

using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Handover;
using FleetLight.Testing.Builders;

namespace FleetLight.Handover.Tests;

/// <summary>An invented garden of any size, as its crew recorded it.</summary>
internal static class Garden
{
    public static readonly DateTimeOffset Now = new(2026, 11, 20, 9, 0, 0, TimeSpan.Zero);

    public static HandoverWish Wish(DateTimeOffset? asOf = null, DateTimeOffset? knownBy = null) => new()
    {
        SiteId = Facts.Site,
        Now = Now,
        AsOf = asOf,
        KnownBy = knownBy,
        Names = new Dictionary<string, string> { ["crew-a"] = "Heather crew" },
    };

    public static HandoverPack Pack(int circuits = 2, int fittings = 4, int readings = 3) => HandoverMaker.Of(Recorded(circuits, fittings, readings), Wish())!;

    /// <summary>What was recorded: circuits with so many fittings each, a duct, a cable and a box a run, and so many readings of each circuit.</summary>
    public static IReadOnlyList<RecordedFact> Recorded(int circuits = 2, int fittings = 4, int readings = 3)
    {
        var crew = new Crew();
        var facts = new List<RecordedFact> { crew.Records(new SiteOpened { SiteId = Facts.Site, Name = "Lower Quay garden", Place = "12 Quay Lane", Position = At(0, 0) }) };
        for (var c = 1; c <= circuits; c++) facts.AddRange(Circuit(crew, c, fittings));
        // The last one never got a cable, and keeps its string for later.
        facts.Add(crew.Records(Duct("d-spare", DuctService.Spare, At(5, 0), At(5, 40))));
        facts.Add(crew.Records(Facts.DuctLabelled("d-spare", "D-S")));
        facts.Add(crew.Records(Facts.StringLeft("d-spare", StringMethod.LaidIn)));
        for (var r = 0; r < readings; r++)
        {
            crew.Waits(24 * 9);
            for (var c = 1; c <= circuits; c++)
                facts.Add(crew.Records(CircuitFacts.Reading(Volts(fittings) + (0.05 * (r % 3)), circuitId: $"k{c}") with { MeterName = "Meter 4" }));
        }

        return facts;
    }

    // By the electrics' own defaults the driver of a sound circuit of these fittings reads about that; what it should read is not tested here.
    private static double Volts(int fittings) => fittings * 1.6 / 0.35;

    private static IEnumerable<RecordedFact> Circuit(Crew crew, int c, int fittings)
    {
        var id = $"k{c}";
        var runs = new List<RunDesign>();
        for (var f = 1; f <= fittings; f++)
            runs.Add(CircuitFacts.Run($"{id}-r{f}", f == 1 ? "driver" : $"{id}-f{f - 1}", $"{id}-f{f}", length: 8 + f, cableId: $"{id}-c{f}"));
        yield return crew.Records(CircuitFacts.Designed(
            id, driver: CircuitFacts.Driver(least: 2, most: 60, watts: 20, open: 59),
            fittings: [.. Enumerable.Range(1, fittings).Select(f => CircuitFacts.Fitting($"{id}-f{f}") with { Description = "Spike spot, warm" })],
            runs: [.. runs], mainsSide: c == 1, name: $"Path {c}"));
        for (var f = 1; f <= fittings; f++)
        {
            yield return crew.Records(Duct($"{id}-d{f}", DuctService.LightingExtraLowVoltage, At(c * 12, (f - 1) * 8), At((c * 12) + 2, f * 8)));
            yield return crew.Records(Facts.DuctLabelled($"{id}-d{f}", $"D{c}-{f}"));
            CoreAssignment[] cores = [Facts.Core("brown", id), Facts.Core("blue", id), Facts.Core("black", null)];
            yield return crew.Records(Facts.CablePulled($"{id}-c{f}", [$"{id}-d{f}"], 8 + f, diameter: 9.2, cores: cores));
            yield return crew.Records(Facts.CableLabelled($"{id}-c{f}", $"C{c}-{f}"));
            yield return crew.Records(Facts.CoreSleeved("brown", CorePolarity.Positive, cableId: $"{id}-c{f}"));
            yield return crew.Records(CircuitFacts.Fixed($"{id}-f{f}", circuitId: id) with { Position = At((c * 12) + 2, f * 8) });
            yield return crew.Records(Facts.JointMade($"{id}-b{f}", $"{id}-j{f}", id, connectors: [Facts.Connector(Facts.Held("brown", $"{id}-c{f}"), Facts.Lead($"{id}-f{f}"))]));
            yield return crew.Records(Facts.BoxSealed($"{id}-b{f}", label: $"Box {c}-{f}") with { Position = At((c * 12) + 1, (f * 8) - 1) });
        }

        yield return crew.Records(CircuitFacts.Connected(circuitId: id) with { At = "In the shed", Position = At(c * 12, -2) });
        yield return crew.Records(CircuitFacts.Insulation(120, 48, 250, mainsSide: false, circuitId: id) with { MeterName = "Tester 1" });
        yield return crew.Records(CircuitFacts.Energised(circuitId: id));
        var accuracy = new MeterAccuracy { PercentOfReading = 0.8, Digits = 2, Resolution = 0.01 };
        yield return crew.Records(CircuitFacts.Reading(Volts(fittings), meter: accuracy, circuitId: id) with { MeterName = "Meter 4" });
        yield return crew.Records(CircuitFacts.HandedOver(id));
    }

    private static DuctLaid Duct(string id, DuctService service, GeoPoint from, GeoPoint to) => Facts.DuctLaid(id, service, depth: 450, bends: 90) with
    {
        Route = new GeoLine { Type = "LineString", Coordinates = [from.Coordinates, to.Coordinates] },
        NearEndAt = "Shed",
        FarEndAt = "Path",
    };

    // Metres east and north of a point in the sea, in degrees, well enough for a garden.
    private static GeoPoint At(double east, double north) => new() { Type = "Point", Coordinates = [-30 + (east / 70000), 50 + (north / 111000)] };
}

using System.Text.Json;
using FleetLight.Contracts;
using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Views;
using FleetLight.PageParts.Drawings.Charts;
using FleetLight.PageParts.Drawings.Circuits;
using FleetLight.PageParts.Drawings.Plans;

namespace FleetLight.Pages.Tests.Drawings;

/// <summary>Circuits, series and a site to draw; all of it made up.</summary>
internal static class Samples
{
    /// <summary>Twelve fittings on one loop, one of them suspect, and a cable.</summary>
    public static CircuitParts Loop { get; } = new()
    {
        Id = "k1",
        Name = "Terrace, west",
        Circuit = new CircuitInput
        {
            Drive = DriveKind.ConstantCurrent,
            Driver = new DriverInput { RatedMilliamps = 350 },
            Fittings = [.. Enumerable.Range(1, 12).Select(number => new FittingInput { FittingId = $"f{number}", RatedWatts = 1.6 })],
            Runs = [.. Enumerable.Range(1, 12).Select(number => Run(number, number == 1 ? "driver" : $"f{number - 1}", $"f{number}", 4 + number))],
        },
        CableOfRun = Enumerable.Range(1, 12).ToDictionary(number => $"r{number}", number => $"c{number}"),
        Cables = [.. Enumerable.Range(1, 12).Select(number => Cable($"c{number}"))],
        Expected =
        [
            Expect(ReadingPlaceKind.Driver, null, ReadingQuantity.VoltsDc, 56.2), Expect(ReadingPlaceKind.Driver, null, ReadingQuantity.Milliamps, 350),
            .. Enumerable.Range(1, 12).Select(number => Expect(ReadingPlaceKind.Fitting, $"f{number}", ReadingQuantity.VoltsDc, 4.57)),
        ],
        Readings = [Reading(ReadingPlaceKind.Driver, null, 51.63, CircuitVerdict.Outside), Reading(ReadingPlaceKind.Fitting, "f3", 4.6, CircuitVerdict.Within)],
        Suspects = [new("f5", 0.62, "Fitting f5 is shorted."), new("r9", 0.21, "The cable is shorter than recorded.")],
        NextPlaces = ["f5"],
    };

    /// <summary>A feed of five boxes with fittings on them, a ring, and a fitting that nothing leads to.</summary>
    public static CircuitParts Feed { get; } = new()
    {
        Id = "k2",
        Name = "Drive",
        Circuit = new CircuitInput
        {
            Drive = DriveKind.ConstantVoltage,
            Driver = new DriverInput { RatedVolts = 24 },
            Fittings = [.. Enumerable.Range(1, 9).Select(number => new FittingInput { FittingId = $"g{number}", RatedWatts = 3 })],
            Runs =
            [
                Run(1, "driver", "b1", 12), Run(2, "b1", "b2", 8), Run(3, "b2", "b3", 8), Run(4, "b3", "b4", 8), Run(5, "b4", "b5", 8), Run(6, "b5", "driver", 30),
                Run(7, "b1", "g1", 2), Run(8, "b2", "g2", 2), Run(9, "b2", "g3", 3), Run(10, "b3", "g4", 2),
                Run(11, "b4", "g5", 2), Run(12, "g5", "g6", 4), Run(13, "b5", "g7", 2), Run(14, "g4", "g8", 2),
            ],
        },
        Boxes = [Box("b1", "Box by the steps"), Box("b2", "Hedge"), Box("b3", null)],
    };

    /// <summary>Readings over two years with a repair.</summary>
    public static ReadingSeries Series { get; } = new()
    {
        Title = "Volts at the driver",
        Quantity = MeasuredAs.VoltsDc,
        Readings =
        [
            .. Enumerable.Range(0, 22).Select(month => new SeriesReading(
                new DateTimeOffset(2025, 1, 10, 9, 0, 0, TimeSpan.Zero).AddMonths(month), 24.1 - (0.05 * month) + (0.03 * (month % 3)),
                month < 12 ? CircuitVerdict.Within : month < 18 ? CircuitVerdict.Doubtful : CircuitVerdict.Outside, Value(24, 0.6))),
        ],
        Levels = [new(23.1, "Fittings go dark"), new(24.5, "Upper control limit", true), new(23.6, "Lower control limit", true)],
        Events =
        [
            new(new DateTimeOffset(2025, 6, 3, 0, 0, 0, TimeSpan.Zero), "Joint remade in the box by the steps"),
            new(new DateTimeOffset(2026, 2, 20, 0, 0, 0, TimeSpan.Zero), "Design changed"),
        ],
    };

    /// <summary>A site with ducts of every service.</summary>
    public static IReadOnlyList<PlanThing> Site { get; } = PlanReader.Read(JsonDocument.Parse(
        """
        {"type":"FeatureCollection","features":[
        {"type":"Feature","id":"site:s1","geometry":{"type":"Point","coordinates":[11.5,48.1]},"properties":{"kind":"site","name":"Garden"}},
        {"type":"Feature","id":"duct:d1","geometry":{"type":"LineString","coordinates":[[11.5,48.1],[11.5003,48.1001],[11.5006,48.1001]]},
          "properties":{"kind":"duct","service":"lighting-extra-low-voltage","colour":"orange","boreMillimetres":40,"lengthMetres":48.5,
          "labels":{"near":"L1"},"cableIds":["c1","c2"],"fillPercent":22.4,"stringInside":true}},
        {"type":"Feature","id":"duct:d2","geometry":{"type":"LineString","coordinates":[[11.5,48.10002],[11.5004,48.1004]]},
          "properties":{"kind":"duct","service":"mains-supply","colour":"red","labels":{"near":"M1"},"cableIds":[]}},
        {"type":"Feature","id":"duct:d3","geometry":{"type":"LineString","coordinates":[[11.4999,48.1],[11.4999,48.1005]]},
          "properties":{"kind":"duct","service":"water","colour":"blue","cableIds":[]}},
        {"type":"Feature","id":"duct:d4","geometry":{"type":"LineString","coordinates":[[11.5002,48.0999],[11.5007,48.1004]]},
          "properties":{"kind":"duct","service":"telecoms","colour":"white","cableIds":[]}},
        {"type":"Feature","id":"box:b1","geometry":{"type":"Point","coordinates":[11.5003,48.1001]},
          "properties":{"kind":"box","label":"Box by the steps","lie":"flat-in-ground","joints":[{}]}},
        {"type":"Feature","id":"box:b2","geometry":null,"properties":{"kind":"box","label":"Box nobody placed"}},
        {"type":"Feature","id":"cable:c1","geometry":null,"properties":{"kind":"cable","lengthMetres":50,"ductIds":["d1"],"cores":[{},{}]}},
        {"type":"Feature","id":"driver:k1","geometry":{"type":"Point","coordinates":[11.5,48.1]},
          "properties":{"kind":"driver","circuitId":"k1","name":"Terrace","verdict":"outside","phase":"energised"}},
        {"type":"Feature","id":"fitting:f1","geometry":{"type":"Point","coordinates":[11.5004,48.10012]},
          "properties":{"kind":"fitting","circuitId":"k1","ratedWatts":1.6,"isFixed":true}},
        {"type":"Feature","id":"fitting:f2","geometry":{"type":"Point","coordinates":[11.5006,48.10012]},
          "properties":{"kind":"fitting","circuitId":"k1","ratedWatts":1.6,"isFixed":true,"verdict":"within"}},
        {"type":"Feature","id":"novelty:n1","geometry":null,"properties":{"kind":"novelty"}}
        ]}
        """).RootElement);

    /// <summary>An expected value with an interval of so much to either side.</summary>
    public static ExpectedValue Value(double value, double half) => new() { Value = value, StandardUncertainty = half / 1.96, Low = value - half, High = value + half };

    private static RunInput Run(int number, string from, string to, double metres) => new()
    {
        RunId = $"r{number}",
        From = from,
        To = to,
        LengthMetres = metres,
        AreaSquareMillimetres = 1.5,
        ConductorClass = ConductorClass.Class5,
    };

    private static CableView Cable(string id) => new()
    {
        Id = id,
        DuctIds = [],
        SpareCores = 0,
        WaitingFor = [],
        Contradictions = [],
        Findings = [],
        Facts = [],
        Cores =
        [
            new() { Core = "brown", Use = CoreUse.Circuit, CircuitId = "k1", Sleeves = new Dictionary<RunEnd, CorePolarity> { [RunEnd.Near] = CorePolarity.Positive } },
            new() { Core = "blue", Use = CoreUse.Circuit, CircuitId = "k1", Sleeves = new Dictionary<RunEnd, CorePolarity> { [RunEnd.Near] = CorePolarity.Negative } },
        ],
    };

    private static BoxView Box(string id, string? label) => new()
    {
        Id = id,
        Label = label,
        WaitingFor = [],
        Contradictions = [],
        Findings = [],
        Facts = [],
        Joints = [new() { JointId = "j1", CircuitId = "k2", Arrangement = JointArrangement.Parallel, ConductorsPerConnector = [3, 3], UnderFitting = false }],
    };

    private static ExpectedReading Expect(ReadingPlaceKind place, string? id, ReadingQuantity quantity, double value) =>
        new() { Place = place, PlaceId = id, Quantity = quantity, Expected = Value(value, value * 0.05) };

    private static ReadingView Reading(ReadingPlaceKind place, string? id, double value, CircuitVerdict verdict) => new()
    {
        Fact = "a#1",
        HappenedAt = default,
        Place = place,
        PlaceId = id,
        Quantity = ReadingQuantity.VoltsDc,
        Value = value,
        Verdict = verdict,
        Why = "",
        ModelVersion = 1,
    };
}

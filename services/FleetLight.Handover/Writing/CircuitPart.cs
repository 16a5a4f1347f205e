using FleetLight.Contracts;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Views;
using FleetLight.Electrics;
using FleetLight.Handover.Blocks;
using FleetLight.Handover.Pictures;
using FleetLight.PageParts.Drawings.Circuits;
using FleetLight.PageParts.Wording;
using FleetLight.Record.Files;

namespace FleetLight.Handover.Writing;

/// <summary>What is said of each circuit: its drawing, its settings, what it should read and did, its tests, and what it has to spare.</summary>
internal static class CircuitPart
{
    private static readonly Column[] ReadingColumns =
    [
        new("Where", 1.5), new("Expected", 1, true), new("95 % interval", 1.5, true), new("Measured", 1, true), new("Verdict", 1.3), new("When", 1.45), new("Who", 1.3),
        new("Meter", 1),
    ];

    private const string Caption = "In order from the driver on. Lengths are of cable; expect and read are those of its newest readings.";

    public static IEnumerable<Block> Write(HandoverPack pack, Said said, double width)
    {
        yield return new Heading(1, "Circuits", true);
        yield return new Grid(
            "Circuits at a glance",
            [new("Circuit", 1.6), new("Drive", 1.5), new("Fittings", 0.9, true), new("Power (W)", 0.8, true), new("Phase", 1.1), new("In use since", 1.05), new("Verdict", 1.3)],
            [
                .. pack.Circuits.Select(circuit => (IReadOnlyList<string>)
                [
                    circuit.State.Name ?? circuit.State.Id,
                    circuit.State.Drive is { } drive ? PlainWords.Of(drive) : Said.NotRecorded,
                    Count(circuit.State.Fittings.Count),
                    Figures.Plain(circuit.State.Fittings.Sum(fitting => fitting.RatedWatts), 1),
                    PlainWords.Of(circuit.State.Phase),
                    circuit.CommissionedOn is { } day ? Said.Day(day) : "not yet",
                    PlainWords.Of(circuit.State.Verdict),
                ]),
            ],
            "No circuit is recorded.");
        // The same for every test: said once, before the first.
        if (pack.Circuits.Any(circuit => circuit.Tests.Count > 0)) yield return new Prose($"Of the tests below: {Lowered(TestJudgement.CautionText)}", true);
        foreach (var block in pack.Circuits.SelectMany(circuit => Of(pack, circuit, said, width))) yield return block;
        yield return new Heading(1, "Settings and limits");
        foreach (var block in Limits(pack)) yield return block;
    }

    private static IEnumerable<Block> Of(HandoverPack pack, HandoverCircuit circuit, Said said, double width)
    {
        var state = circuit.State;
        var names = CircuitPicture.PartsOf(circuit, pack.Cables, pack.Boxes) is var parts ? new CircuitNames(parts) : null!;
        yield return new Heading(2, $"Circuit {state.Name ?? state.Id}");
        yield return new Prose($"{PlainWords.Of(state.Verdict)}. {state.VerdictWhy}");
        if (CircuitPicture.Of(circuit, pack.Cables, pack.Boxes, width) is { } picture) yield return new Figure(picture, Caption);
        else yield return new Prose("There is no drawing: the design of this circuit is not recorded.");
        yield return new Pairs([.. Settings(circuit)]);
        if (circuit.Built is not null) yield return Fittings(circuit, names);
        yield return Latest(circuit, names, said);
        yield return Tests(circuit, said);
    }

    private static IEnumerable<(string Name, string Says)> Settings(HandoverCircuit circuit)
    {
        var state = circuit.State;
        if (circuit.Built is { } built) yield return ("Driver", Driver(built));
        if (state.DriverAt is { } at) yield return ("Driver is", at);
        if (circuit.Built is not null) yield return ("Mains side", circuit.MainsSide ? "part of this job" : "not part of this job");
        yield return ("To spare", Spare(state));
        if (state.ExpectedWhyNot is { } whyNot) yield return ("Expected readings", whyNot);
        foreach (var drift in (state.Drift ?? []).Where(each => each.Trend is not (ReadingTrend.Steady or ReadingTrend.CannotTell))) yield return ("Drift", drift.Says);
        if (state.OpenFaults.Count > 0) yield return ("Faults reported", string.Join("; ", state.OpenFaults));
        if (state.MissingForNextPhase.Count > 0 && state.Phase != CircuitPhase.HandedOver) yield return ("Still missing", string.Join(" ", state.MissingForNextPhase));
    }

    private static string Lowered(string sentence) => char.ToLowerInvariant(sentence[0]) + sentence[1..];

    private static string Driver(CircuitInput circuit)
    {
        var driver = circuit.Driver;
        return string.Join(", ", (string[])
        [
            PlainWords.Of(circuit.Drive).ToLowerInvariant(),
            .. Told(circuit.Drive == DriveKind.ConstantCurrent ? driver.RatedMilliamps : null, "set to ", "mA"),
            .. Told(circuit.Drive == DriveKind.ConstantVoltage ? driver.RatedVolts : null, "set to ", "V"),
            .. driver is { LeastVolts: { } least, MostVolts: { } most }
                ? (string[])[$"regulates from {Words.Plain(least)} to {Words.Of(most, "V")}"]
                : [.. Told(driver.MostVolts, "at most ", "V")],
            .. Told(driver.MostWatts, "at most ", "W"),
            .. Told(driver.MostAmps, "at most ", "A"),
            .. Told(driver.OpenCircuitVolts, "open circuit ", "V"),
        ]);
    }

    private static IEnumerable<string> Told(double? value, string before, string unit) => value is { } known ? [before + Words.Of(known, unit)] : [];

    private static string Spare(CircuitView state)
    {
        var says = new List<string>();
        if (state.Headroom is { } left)
        {
            if (left.WattsLeft is { } watts) says.Add($"{Figures.Plain(watts, 1)} W of its driver");
            if (left.VoltsLeft is { } volts) says.Add($"{Figures.Plain(volts, 1)} V of its driver's range");
            if (left.WattsLoadPercent is { } load) says.Add($"loaded to {Figures.Plain(load, 0)} % of its power");
            if (left.NearLimit) says.Add("at or near its limit: add nothing");
        }
        else
        {
            says.Add("what its driver has left cannot be told");
        }

        says.Add(state.SpareCores switch { 0 => "no spare core", 1 => "1 spare core", var many => $"{many} spare cores" });
        return string.Join(", ", says) + ".";
    }

    private static Grid Fittings(HandoverCircuit circuit, CircuitNames names) => new(
        "Fittings, in the order of the circuit",
        [
            new("Fitting", 1), new("Id", 1.3), new("What it is", 2), new("Power (W)", 0.9, true), new("Designed (W)", 1.1, true), new("Fixed", 0.6),
            new("Position (lat., long.)", 1.7),
        ],
        [
            .. circuit.State.Fittings.Select(fitting => (IReadOnlyList<string>)
            [
                names.OfPlace(fitting.FittingId), fitting.FittingId, circuit.FittingIs.GetValueOrDefault(fitting.FittingId) ?? "",
                Figures.Plain(fitting.RatedWatts), Figures.Plain(fitting.DesignedWatts ?? fitting.RatedWatts), Said.YesNo(fitting.Fixed), Said.At(fitting.Position),
            ]),
        ],
        "No fitting is recorded.");

    // Of each place the newest reading beside what it should read; what was never read is told too.
    private static Grid Latest(HandoverCircuit circuit, CircuitNames names, Said said)
    {
        var newest = circuit.Readings.GroupBy(each => (Place: CircuitParts.PlaceOf(each.Reading.Place, each.Reading.PlaceId), each.Reading.Quantity))
            .ToDictionary(group => group.Key, group => group.First());
        var rows = new List<IReadOnlyList<string>>();
        foreach (var expected in circuit.State.Expected)
        {
            newest.Remove((CircuitParts.PlaceOf(expected.Place, expected.PlaceId), expected.Quantity), out var read);
            // Away from the driver voltage is what a crew measures; the rest would only make the list long.
            if (read is null && expected is not ({ Place: ReadingPlaceKind.Driver } or { Quantity: ReadingQuantity.VoltsDc })) continue;
            rows.Add(read is not null
                ? Row(read, names, said)
                :
                [
                    Said.Place(names, expected.Place, expected.PlaceId), Figures.Of(expected.Expected.Value, expected.Quantity),
                    Figures.Between(expected.Expected.Low, expected.Expected.High, expected.Quantity), "not read", "", "", "", "",
                ]);
        }

        rows.AddRange(newest.Values.Select(read => Row(read, names, said)));
        return new Grid("Readings: the newest of each place", ReadingColumns, rows, "No reading was taken, and none can be expected without a design.");
    }

    /// <summary>All readings of the site, for the record.</summary>
    public static IEnumerable<Block> Earlier(HandoverPack pack, Said said)
    {
        foreach (var circuit in pack.Circuits.Where(circuit => circuit.Readings.Count > 0))
        {
            var names = new CircuitNames(CircuitPicture.PartsOf(circuit, pack.Cables, pack.Boxes));
            yield return new Grid(
                $"Circuit {circuit.State.Name ?? circuit.State.Id}: {circuit.Readings.Count} {(circuit.Readings.Count == 1 ? "reading" : "readings")}, newest first",
                ReadingColumns, [.. circuit.Readings.Select(read => Row(read, names, said))], "");
        }
    }

    private static IReadOnlyList<string> Row(HandoverReading read, CircuitNames names, Said said) =>
    [
        Said.Place(names, read.Reading.Place, read.Reading.PlaceId),
        read.Reading.Expected is { } expected ? Figures.Of(expected.Value, read.Reading.Quantity) : "",
        read.Reading.Expected is { } within ? Figures.Between(within.Low, within.High, read.Reading.Quantity) : "",
        Figures.Of(read.Reading.Value, read.Reading.Quantity),
        PlainWords.Of(read.Reading.Verdict),
        said.Time(read.Reading.HappenedAt),
        said.Who(read.By),
        read.MeterName ?? "not named",
    ];

    private static Grid Tests(HandoverCircuit circuit, Said said) => new(
        "Tests",
        [new("Test", 1.4), new("Side", 0.8), new("Result, and the value named", 4), new("Meets it", 0.8), new("When", 1.1), new("Who", 1.1), new("Tester", 0.9)],
        [
            .. circuit.Tests.Select(test => (IReadOnlyList<string>)
            [
                PlainWords.Of(test.Test.Test), test.Test.MainsSide ? "mains" : "output",
                // The caution stands once, before all circuits.
                test.Test.Says.Replace(TestJudgement.CautionText, "", StringComparison.Ordinal).Trim(),
                test.Test.Meets switch { true => "yes", false => "no", _ => "not judged" }, said.Time(test.Test.HappenedAt), said.Who(test.By), test.MeterName ?? "not named",
            ]),
        ],
        "No test is recorded.");

    private static IEnumerable<Block> Limits(HandoverPack pack)
    {
        var (rule, assumed) = (pack.Limits.Rule, pack.Limits.Assumptions);
        yield return new Prose(
            "Readings were judged against what each circuit should read by its design as built, with the tolerances of driver, fittings, cable and meter. "
            + "A verdict is advice, never a certificate.");
        yield return new Pairs(
        [
            ("Risk of a false alarm", $"at most {Said.Number(rule.FalseAlarmPercent)} % of sound circuits are called not as they should be"),
            ("Risk of passing a fault", $"at most {Said.Number(rule.MissedFaultPercent)} % of those called as they should be"),
            ("Sound before measuring", $"{Said.Number(rule.AsDesignedPercent)} % of circuits"),
            ("Smallest difference that matters", rule.SmallestDifferencePercent is { } least ? $"{Figures.Plain(least)} %" : "any"),
            ("Temperature in the ground", Celsius(assumed.Buried)),
            ("Temperature in open air", Celsius(assumed.InAir)),
            ("Temperature in a warm enclosure", Celsius(assumed.WarmBox)),
            ("Settings", pack.Limits.SettingsVersion == 0 ? "the stated defaults" : $"version {Count(pack.Limits.SettingsVersion)} of the organisation's own"),
            ("Models", pack.Limits.ModelVersions.Count == 0 ? "nothing was judged" : $"version {string.Join(", ", pack.Limits.ModelVersions.Select(Count))}"),
        ]);
        yield return new Grid(
            "Driver settings",
            [new("Circuit", 1.4), new("Driver", 4), new("To spare", 3)],
            [
                .. pack.Circuits.Select(circuit => (IReadOnlyList<string>)
                    [circuit.State.Name ?? circuit.State.Id, circuit.Built is { } built ? Driver(built) : Said.NotRecorded, Spare(circuit.State)]),
            ],
            "No circuit is recorded.");
    }

    private static string Celsius(TemperatureInput? temperature) => temperature is { } known ? $"{Figures.Plain(known.Celsius, 1)} °C" : "the stated default";

    private static string Count(int number) => number.ToString(System.Globalization.CultureInfo.InvariantCulture);
}

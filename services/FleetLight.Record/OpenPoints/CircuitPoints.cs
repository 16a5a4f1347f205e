using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;
using FleetLight.Record.Files;
using FleetLight.Record.Rules.Circuits;

namespace FleetLight.Record.OpenPoints;

/// <summary>What is missing on a circuit: cables, fittings, its driver, tests, readings, repairs.</summary>
internal static class CircuitPoints
{
    private const string MainsCaution = "Isolate and prove dead first; the mains side is for licensed persons where your law says so.";

    public static void Add(CircuitView circuit, CircuitDesigned? design, string site, ICollection<OpenPoint> into)
    {
        var points = new PointMaker(ThingKind.Circuit, circuit, circuit.Name ?? circuit.Id, into) { Circuits = [circuit.Id] };
        var said = new HashSet<string>(StringComparer.Ordinal) { PhaseWords.HandedOver };
        AddCables(circuit, design, site, points, said);
        AddFittings(circuit, site, points, said);
        AddDriver(circuit, site, points, said);
        AddTests(circuit, design, site, points, said);
        AddReadings(circuit, site, points, said);
        for (var i = 0; i < circuit.MissingForNextPhase.Count; i++)
        {
            var text = circuit.MissingForNextPhase[i];
            if (said.Add(text)) points.Add($"missing:{text}", $"Not recorded yet: {text}", "Do it and record it.", WorkPhase.BeforeHandover, []);
        }

        points.AddRest(finding => Ticking(circuit, site, finding), circuit.DriverAt, circuit.DriverPosition);
    }

    private static void AddCables(CircuitView circuit, CircuitDesigned? design, string site, PointMaker points, HashSet<string> said)
    {
        if (circuit.Phase == CircuitPhase.Named)
        {
            said.Add(PhaseWords.Design);
            points.Add("design", "Its design is not recorded.", "Record the design, or bring it in as a file.", WorkPhase.BeforeEnergising, []);
        }

        foreach (var run in design?.Runs ?? [])
        {
            var text = run.CableId is { } id ? PhaseWords.CableOfRun(id, run.RunId) : PhaseWords.SomeCableOfRun(run.RunId);
            if (!circuit.MissingForNextPhase.Contains(text) || !said.Add(text)) continue;
            points.Add(
                $"cable:{run.RunId}", $"The cable of run {run.RunId}, from {run.From} to {run.To}, is not recorded as pulled.",
                "Pull it and record its ducts, length and cores.", WorkPhase.BeforeCover, [CablePoints.Pulled(site, run.CableId, run)],
                part: $"run {run.RunId}");
        }

        // Without the design at hand only the words are known.
        foreach (var text in circuit.MissingForNextPhase)
        {
            if (!PhaseWords.IsOfCable(text) || !said.Add(text)) continue;
            points.Add($"cable:{text}", $"Not recorded yet: {text}", "Pull it and record its ducts, length and cores.", WorkPhase.BeforeCover, []);
        }
    }

    private static void AddFittings(CircuitView circuit, string site, PointMaker points, HashSet<string> said)
    {
        foreach (var fitting in circuit.Fittings)
        {
            if (fitting.Fixed) continue;
            said.Add(PhaseWords.FittingFixed(fitting.FittingId));
            points.Add(
                $"fixed:{fitting.FittingId}", $"Fitting {fitting.FittingId} is not fixed.", "Fix it in its place and record it.",
                WorkPhase.BeforeEnergising,
                [Ticks.Of<FittingFixed>("Fixed", [], ("siteId", site), ("circuitId", circuit.Id), ("fittingId", fitting.FittingId))],
                part: fitting.FittingId, position: fitting.Position);
        }
    }

    private static void AddDriver(CircuitView circuit, string site, PointMaker points, HashSet<string> said)
    {
        said.Add(PhaseWords.DriverConnected);
        said.Add(PhaseWords.Energised);
        if (circuit.Phase == CircuitPhase.Named) return;
        if (!circuit.PhaseReachedAt.ContainsKey(CircuitPhase.Connected))
        {
            points.Add(
                "connected", "The driver is not connected.", $"Connect it, its output last. {MainsCaution}", WorkPhase.BeforeEnergising,
                [Ticks.Of<DriverConnected>("Connected", [], ("siteId", site), ("circuitId", circuit.Id))]);
        }

        if (!circuit.PhaseReachedAt.ContainsKey(CircuitPhase.Energised))
        {
            points.Add(
                "energised", "The circuit was not energised yet.", "Energise it once its tests are made, and look which fittings light.",
                WorkPhase.BeforeHandover, AllLit(circuit, site));
        }
    }

    private static void AddTests(CircuitView circuit, CircuitDesigned? design, string site, PointMaker points, HashSet<string> said)
    {
        foreach (var kind in Enum.GetValues<TestKind>())
        {
            var text = PhaseWords.TestMeets(kind);
            var isMissing = circuit.MissingForNextPhase.Contains(text) || (design is { MainsSide: true } && !circuit.Tests.Any(test => IsGood(test, kind)));
            said.Add(text);
            if (!isMissing) continue;
            Finding?[] found = [points.Take(FailedBy(kind), FailedTests.MainsSide), kind == TestKind.InsulationResistance ? points.Take(EnergisedUntested.Rule.Id) : null];
            Finding[] taken = [.. found.OfType<Finding>()];
            points.Add(
                $"test:{Words.Of(kind)}",
                taken.Length > 0 ? string.Join(' ', taken.Select(one => one.Reason)) : $"No test of {Words.Of(kind)} on the mains side meets its value yet.",
                $"{(taken.Length > 0 ? taken[0].Remedy : "Test it and record it.")} {MainsCaution}",
                kind == TestKind.ResidualCurrentDevice ? WorkPhase.BeforeHandover : WorkPhase.BeforeEnergising,
                [Ticks.Tested(site, circuit.Id, kind, mainsSide: true)], taken, $"test of {Words.Of(kind)}", circuit.DriverAt, circuit.DriverPosition);
        }
    }

    // No value is named for continuity: that it was proven is enough.
    private static bool IsGood(TestView test, TestKind kind) =>
        test.MainsSide && test.Test == kind && (test.Meets ?? kind == TestKind.Continuity);

    private static void AddReadings(CircuitView circuit, string site, PointMaker points, HashSet<string> said)
    {
        var isLoopExpected = circuit.Expected.Any(one => one is { Place: ReadingPlaceKind.Driver, Quantity: ReadingQuantity.LoopOhms });
        var isLoopRead = circuit.LastReadings.Any(one => one.Quantity == ReadingQuantity.LoopOhms);
        // Once it is energised, what the loop would show shows otherwise, and the ground is closed.
        if (isLoopExpected && !isLoopRead && circuit.Phase is >= CircuitPhase.Cabled and < CircuitPhase.Energised)
        {
            points.Add(
                "read:loop-ohms", "The loop resistance of its cable was not read.",
                "With the driver off and disconnected, join the cores at the far end and read the loop while the cable can still be reached.",
                WorkPhase.BeforeCover, [Ticks.Read(site, circuit.Id, ReadingPlaceKind.Driver, null, ReadingQuantity.LoopOhms)],
                place: circuit.DriverAt, position: circuit.DriverPosition);
        }

        said.Add(PhaseWords.ReadingDue);
        var found = points.Take(NoReadingSinceRepair.Rule.Id);
        if (found is null && !circuit.MissingForNextPhase.Contains(PhaseWords.ReadingDue)) return;
        points.Add(
            "read:driver", found?.Reason ?? "No reading at the driver lies within what it should read yet.",
            "Read volts at the driver; the output may be live, so let those do it who are competent to.", WorkPhase.BeforeHandover,
            [Ticks.Read(site, circuit.Id, ReadingPlaceKind.Driver, null, ReadingQuantity.VoltsDc)], found is null ? null : [found],
            place: circuit.DriverAt, position: circuit.DriverPosition);
    }

    private static List<TickOff> AllLit(CircuitView circuit, string site) =>
    [
        Ticks.Of<CircuitEnergised>("Energised, every fitting lit", [], ("siteId", site), ("circuitId", circuit.Id)),
        Ticks.Of<CircuitEnergised>("Energised, some stayed dark", ["unlitFittingIds"], ("siteId", site), ("circuitId", circuit.Id)),
    ];

    private static string FailedBy(TestKind kind) => kind switch
    {
        TestKind.InsulationResistance => InsulationTooLow.Rule.Id,
        TestKind.Polarity => PolarityTestFailed.Rule.Id,
        TestKind.ResidualCurrentDevice => TripTimeOutside.Rule.Id,
        _ => "",
    };

    private static List<TickOff> Ticking(CircuitView circuit, string site, Finding finding)
    {
        if (finding.Rule == FaultOpen.Rule.Id)
        {
            return
            [
                Ticks.Of<RepairMade>(
                    "Mended", ["what"], ("siteId", site), ("circuitId", circuit.Id), ("faultIds", new System.Text.Json.Nodes.JsonArray(finding.Cause))),
            ];
        }

        if (finding.Rule == FittingUnlit.Rule.Id) return [AllLit(circuit, site)[0]];
        if (finding.Rule == ReadingOutside.Rule.Id)
            return [Ticks.Read(site, circuit.Id, ReadingPlaceKind.Driver, null, ReadingQuantity.VoltsDc)];
        foreach (var kind in Enum.GetValues<TestKind>())
            if (finding.Rule == FailedBy(kind)) return [Ticks.Tested(site, circuit.Id, kind, finding.Cause == FailedTests.MainsSide)];
        return [];
    }
}

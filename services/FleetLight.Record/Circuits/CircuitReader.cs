using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Record.Corrections;
using FleetLight.Record.Files;

namespace FleetLight.Record.Circuits;

/// <summary>Reads what is known of a circuit out of its history.</summary>
internal static class CircuitReader
{
    // A design is changed as the work goes on; two that differ in the drive are of two different circuits.
    private static readonly Disagreement<CircuitDesigned> Differs = new(("drive", design => Words.Of(design.Drive)));

    public static CircuitState Read(ThingHistory history)
    {
        var designs = history.All<CircuitDesigned>();
        var design = designs.Count == 0 ? null : designs[^1];
        var connected = history.Newest<DriverConnected>();
        var energised = history.All<CircuitEnergised>();
        var tests = history.All<TestMade>();
        return new CircuitState
        {
            Subject = history.Subject,
            Design = design,
            DesignChangedAt = ChangedAt(designs),
            Connected = connected,
            Driver = AsBuilt.Driver(design?.Data, connected?.Data),
            Fixed = NewestBy(history.All<FittingFixed>(), fitting => fitting.FittingId),
            Tests =
            [
                .. tests.GroupBy(test => (test.Data.Test, test.Data.MainsSide))
                    .OrderBy(group => group.Key)
                    .Select(group => group.Last())
                    .Select(test => new JudgedTest(test, TestJudge.Judge(test.Data, test.At))),
            ],
            FirstEnergised = energised.Count == 0 ? null : energised[0],
            LastEnergised = energised.Count == 0 ? null : energised[^1],
            HandedOver = history.Newest<CircuitHandedOver>(),
            OpenFaults = OpenFaults(history),
            LastRepair = history.Newest<RepairMade>(),
            FirstInsulationTest = tests.Find(test =>
                test.Data is { Test: TestKind.InsulationResistance, MainsSide: true }),
            Gaps = [],
        };
    }

    /// <summary>What its own facts contradict one another in, and what they wait for.</summary>
    public static void AddDoubts(CircuitState state, ThingHistory history)
    {
        Differs.AddTo(history.All<CircuitDesigned>(), history.Contradictions);
        AddUnknownFaults(history);
        if (state.Design is not { } design)
        {
            history.Waiting.Add("It waits for the design of this circuit.");
            return;
        }

        var known = design.Data.Fittings.Select(fitting => fitting.FittingId).ToHashSet(StringComparer.Ordinal);
        foreach (var fitting in state.Fixed.Values)
            if (!known.Contains(fitting.Data.FittingId))
                AddStranger($"Fitting {fitting.Data.FittingId} was fixed by {fitting.Key}");
        foreach (var unlit in state.LastEnergised?.Data.UnlitFittingIds ?? [])
            if (!known.Contains(unlit))
                AddStranger($"Fitting {unlit} was seen unlit by {state.LastEnergised!.Key}");
        foreach (var joint in history.All<JointMade>())
        {
            var strangers = joint.Data.Connectors.SelectMany(connector => connector.Conductors)
                .Select(held => held.FittingId).OfType<string>()
                .Where(id => joint.Data.CircuitId == state.Subject.Id && !known.Contains(id))
                .Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal);
            foreach (var id in strangers)
                AddStranger($"Joint {joint.Data.JointId} holds fitting {id} by {joint.Key}");
        }

        void AddStranger(string says) => history.Contradictions.Add($"{says}; the design does not name it.");
    }

    private static void AddUnknownFaults(ThingHistory history)
    {
        var reported = NewestBy(history.All<FaultReported>(), fault => fault.FaultId);
        foreach (var repair in history.All<RepairMade>())
            foreach (var fault in (repair.Data.FaultIds ?? []).Distinct(StringComparer.Ordinal))
                if (!reported.ContainsKey(fault))
                    history.Waiting.Add($"It waits for the report of fault {fault}, mended by {repair.Key}.");
    }

    private static DateTimeOffset? ChangedAt(List<Counted<CircuitDesigned>> designs)
    {
        for (var i = designs.Count - 1; i > 0; i--)
            if (!SameElectrics(designs[i - 1].Data, designs[i].Data)) return designs[i].At;
        return null;
    }

    private static bool SameElectrics(CircuitDesigned one, CircuitDesigned other) =>
        one.Drive == other.Drive && one.Driver == other.Driver
        && one.Fittings.AsSpan().SequenceEqual(other.Fittings) && one.Runs.AsSpan().SequenceEqual(other.Runs);

    private static SortedDictionary<string, Counted<T>> NewestBy<T>(List<Counted<T>> facts, Func<T, string> keyOf)
        where T : IFact
    {
        var newest = new SortedDictionary<string, Counted<T>>(StringComparer.Ordinal);
        foreach (var fact in facts) newest[keyOf(fact.Data)] = fact;
        return newest;
    }

    // A fault is mended by a repair that names it, made at or after its newest report.
    private static List<Counted<FaultReported>> OpenFaults(ThingHistory history)
    {
        var open = NewestBy(history.All<FaultReported>(), fault => fault.FaultId);
        foreach (var repair in history.All<RepairMade>())
            foreach (var id in repair.Data.FaultIds ?? [])
                if (open.TryGetValue(id, out var fault) && repair.At >= fault.At) open.Remove(id);
        return [.. open.Values];
    }
}

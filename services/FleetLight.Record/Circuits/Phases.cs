using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;

namespace FleetLight.Record.Circuits;

/// <summary>
/// How far a circuit has come. The phase is the furthest for which its own evidence is recorded; what is not recorded
/// of the phases before it is named as missing, so that a forgotten record is found and does not hide that the circuit
/// is alive. Without a design it stays named only.
/// </summary>
internal sealed class Phases
{
    private readonly CircuitState state;
    private readonly SortedDictionary<CircuitPhase, DateTimeOffset> reached = [];
    private readonly List<string> uncabled = [];
    private readonly List<string> unfitted = [];

    public Phases(
        CircuitState state,
        DateTimeOffset? namedAt,
        ById<CableView> cables,
        IReadOnlyList<CableView> ownCables)
    {
        this.state = state;
        if (namedAt is { } first) reached[CircuitPhase.Named] = first;
        if (state.Design is not { } design) return;
        reached[CircuitPhase.Designed] = design.At;
        Cable(design.Data, design.At, cables, ownCables);
        Fit(design.Data, design.At);
        if (state.Connected is { } connected) reached[CircuitPhase.Connected] = connected.At;
        if (state.FirstEnergised is { } energised) reached[CircuitPhase.Energised] = energised.At;
        if (state.HandedOver is { } handedOver) reached[CircuitPhase.HandedOver] = handedOver.At;
    }

    /// <summary>When each phase was reached, in order.</summary>
    public IReadOnlyDictionary<CircuitPhase, DateTimeOffset> Reached => reached;

    /// <summary>The furthest.</summary>
    public CircuitPhase Phase => reached.Count == 0 ? CircuitPhase.Named : reached.Keys.Max();

    /// <summary>What is not recorded of the phases up to being energised.</summary>
    public IReadOnlyList<string> Gaps => Unrecorded(CircuitPhase.Energised);

    /// <summary>What is missing for the next phase; readings and what hangs on them left out.</summary>
    public IReadOnlyList<string> Missing => Phase switch
    {
        CircuitPhase.HandedOver => [],
        >= CircuitPhase.Energised => [.. Gaps, .. TestsMissing().Missing],
        var phase => Unrecorded(phase + 1),
    };

    /// <summary>
    /// When the circuit was energised and the newest of the tests that are due was made; none where anything is
    /// missing.
    /// </summary>
    public DateTimeOffset? ProvableAt =>
        Gaps.Count == 0 && TestsMissing() is { Missing.Count: 0 } tests ? tests.NewestAt : null;

    private List<string> Unrecorded(CircuitPhase upTo)
    {
        List<string> missing = [];
        if (state.Design is null)
        {
            missing.Add(PhaseWords.Design);
            return missing;
        }

        if (upTo >= CircuitPhase.Cabled) missing.AddRange(uncabled);
        if (upTo >= CircuitPhase.Fitted) missing.AddRange(unfitted);
        if (upTo >= CircuitPhase.Connected && state.Connected is null) missing.Add(PhaseWords.DriverConnected);
        if (upTo >= CircuitPhase.Energised && state.FirstEnergised is null) missing.Add(PhaseWords.Energised);
        return missing;
    }

    // A run that names its cable is made by that cable, any other by one of the circuit's cables that no run names.
    private void Cable(CircuitDesigned design, DateTimeOffset at, ById<CableView> cables, IReadOnlyList<CableView> own)
    {
        var named = new HashSet<string>(StringComparer.Ordinal);
        foreach (var run in design.Runs)
        {
            if (run.CableId is not { } id) continue;
            named.Add(cables.Resolve(id));
            if (cables.Find(id)?.PulledAt is { } pulled) at = Later(at, pulled);
            else uncabled.Add(PhaseWords.CableOfRun(id, run.RunId));
        }

        var free = new Queue<DateTimeOffset>(own
            .Where(cable => !named.Contains(cable.Id))
            .Select(cable => cable.PulledAt).OfType<DateTimeOffset>().Order());
        foreach (var run in design.Runs)
        {
            if (run.CableId is not null) continue;
            if (free.TryDequeue(out var pulled)) at = Later(at, pulled);
            else uncabled.Add(PhaseWords.SomeCableOfRun(run.RunId));
        }

        if (uncabled.Count == 0) reached[CircuitPhase.Cabled] = at;
    }

    private void Fit(CircuitDesigned design, DateTimeOffset at)
    {
        foreach (var fitting in design.Fittings)
        {
            if (state.Fixed.TryGetValue(fitting.FittingId, out var known)) at = Later(at, known.At);
            else unfitted.Add(PhaseWords.FittingFixed(fitting.FittingId));
        }

        if (unfitted.Count == 0) reached[CircuitPhase.Fitted] = at;
    }

    // Tests are due where the mains side is part of the job (contract of the design).
    private (List<string> Missing, DateTimeOffset? NewestAt) TestsMissing()
    {
        List<string> missing = [];
        DateTimeOffset? newest = state.FirstEnergised?.At;
        if (state.Design is not { Data.MainsSide: true }) return (missing, newest);
        foreach (var kind in Enum.GetValues<TestKind>())
        {
            var test = state.Tests.FirstOrDefault(one => one.View.MainsSide && one.View.Test == kind);
            // No value is named for continuity: that it was proven is enough.
            var good = test?.View.Meets ?? (kind == TestKind.Continuity && test?.Test.Data.Ohms is not null);
            if (good) newest = newest is { } at ? Later(at, test!.Test.At) : test!.Test.At;
            else missing.Add(PhaseWords.TestMeets(kind));
        }

        return (missing, newest);
    }

    private static DateTimeOffset Later(DateTimeOffset one, DateTimeOffset other) => one >= other ? one : other;
}

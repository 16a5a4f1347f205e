using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;
using FleetLight.Record.Corrections;
using FleetLight.Record.Files;
using FleetLight.Record.Works;

namespace FleetLight.Record.Handover;

/// <summary>What a pack tells of a circuit.</summary>
internal static class CircuitPack
{
    public static HandoverCircuit Of(MemoryWorks works, CircuitView state, CircuitDesigned? design, HandoverDays days)
    {
        var basis = works.BasisOf(state.Id)!;
        DateTimeOffset? used = state.PhaseReachedAt.TryGetValue(CircuitPhase.HandedOver, out var over) ? over
            : state.PhaseReachedAt.TryGetValue(CircuitPhase.Energised, out var on) ? on : null;
        return new HandoverCircuit
        {
            State = state,
            Built = CircuitModels.Of(basis).Circuit,
            CableOfRun = WorksFold.RunCables(works, state.Id).ToDictionary(cable => cable.RunId, cable => cable.CableId, StringComparer.Ordinal),
            FittingIs = (design?.Fittings ?? []).Where(fitting => fitting.Description is not null)
                .DistinctBy(fitting => fitting.FittingId, StringComparer.Ordinal)
                .ToDictionary(fitting => fitting.FittingId, fitting => fitting.Description!, StringComparer.Ordinal),
            MainsSide = design?.MainsSide ?? false,
            CommissionedOn = days.Of(used),
            // All of them are judged, and not only the newest that make the state.
            Readings = [.. works.ReadingsOf(state.Id).Select(entry => Reading(basis, entry))],
            Tests = Tests(works, state.Id),
        };
    }

    private static HandoverReading Reading(CircuitBasis basis, ReadingEntry entry) => new()
    {
        Reading = ReadingJudge.Judge(basis, entry, KeptJudgements.None).View,
        By = entry.Source,
        MeterName = entry.MeterName,
        Meter = entry.Meter,
    };

    private static HandoverTest[] Tests(MemoryWorks works, string circuit) =>
    [
        .. EffectiveFacts.Of(works.FileOf(new(ThingKind.Circuit, circuit))).Facts
            .Where(fact => fact.CountingData is TestMade test && test.CircuitId == circuit)
            .OrderByDescending(fact => fact.Original, FactOrder.Instance)
            .Select(fact => (fact.Original.Of, Test: (TestMade)fact.CountingData!))
            .Select(fact => new HandoverTest
            {
                Test = TestJudge.Judge(fact.Test, fact.Of.HappenedAt),
                Fact = FactKey.Of(fact.Of),
                By = fact.Of.Source,
                MeterName = fact.Test.MeterName,
            }),
    ];
}

using FleetLight.Electrics;

namespace FleetLight.Record.Circuits;

/// <summary>
/// What a diagnosis may rest on beside readings: which fittings were lit, and the insulation resistance. Only what was seen
/// since the last repair and change of design counts.
/// </summary>
internal sealed record OtherEvidence(DateTimeOffset? LookedAt, IReadOnlyList<string>? Dark, double? InsulationMegohms)
{
    /// <summary>What counts of a circuit.</summary>
    public static OtherEvidence Of(CircuitState state)
    {
        var since = state.LastRepair?.At > state.DesignChangedAt ? state.LastRepair.At : state.DesignChangedAt ?? state.LastRepair?.At;
        // Where no list was given, nobody says that somebody looked.
        var looked = state.LastEnergised is { Data.UnlitFittingIds: not null } energised && !(energised.At < since) ? energised : null;
        var known = state.Design?.Data.Fittings.Select(fitting => fitting.FittingId).ToHashSet(StringComparer.Ordinal) ?? [];
        var insulation = state.Tests.FirstOrDefault(test => test.Test.Data is
        { Test: Contracts.TestKind.InsulationResistance, MainsSide: false, Megohms: not null } && !(test.Test.At < since));
        return new(
            looked?.At,
            looked is null ? null : [.. looked.Data.UnlitFittingIds!.Where(known.Contains).Distinct(StringComparer.Ordinal)],
            insulation?.Test.Data.Megohms);
    }

    /// <summary>The same as readings, of those fittings.</summary>
    public static IEnumerable<MeasuredReading> Readings(CircuitBasis basis)
    {
        if (basis is { Dark: { } dark, Model: { } model })
        {
            foreach (var fitting in model.Fittings)
                yield return new(fitting.Id, MeasuredQuantity.FittingLit, dark.Contains(fitting.Id) ? 0 : 1);
        }

        if (basis.InsulationMegohms is { } megohms)
            yield return new(CircuitModel.DriverNode, MeasuredQuantity.MegohmsInsulation, megohms);
    }
}

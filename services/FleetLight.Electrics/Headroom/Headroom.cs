using System.Collections.Immutable;
using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>Says whether fittings may be added to a circuit as built, and what would make it possible.</summary>
/// <remarks>
/// Held against: the driver's greatest volts, watts and amps by the upper end of the 95 % interval; its least volts;
/// the least volts of every fitting; the drop on constant voltage with conductors at the IEC 60228 maximum; the current
/// of every conductor; the spare cores; collapse of the voltage. Not looked at: how full the duct is, the dimming of
/// drivers, what the mains side can give, faults in the ground. A longer run never turns a no into a yes, and a larger
/// conductor never a yes into a no.
/// </remarks>
public static class Headroom
{
    /// <summary>May these fittings be added, here, on these spare cores?</summary>
    /// <param name="question">The question. Any content is answered or refused by name.</param>
    /// <param name="options">What it is held against; the stated defaults if null.</param>
    /// <param name="assumptions">What is assumed where the record is silent; the stated defaults if null.</param>
    public static HeadroomResult Of(
        HeadroomQuestion? question, HeadroomOptions? options = null, Assumptions? assumptions = null)
    {
        var limits = options ?? HeadroomOptions.Default;
        var assumed = assumptions ?? Assumptions.Default;
        var refusal = HeadroomCheck.FirstObstacle(question, limits);
        if (refusal is not null || question is null) return new HeadroomResult(null, refusal);
        var changed = AlteredCircuit.Build(question);
        refusal = CircuitCheck.FirstObstacle(changed, assumed);
        if (refusal is not null) return Refused(refusal);
        var found = Assessment.Of(changed, limits, assumed, SpareCheck.Reasons(question));
        if (found.Obstacle is { } obstacle && HeadroomCheck.IsAboutTheRecord(obstacle)) return Refused(obstacle);

        var before = Before(question.Circuit, limits, assumed);
        var reasons = Marked(found.Reasons, before);
        return new HeadroomResult(
            new HeadroomAnswer
            {
                May = found.May,
                Text = HeadroomWording.Of(question.Fittings.Length, found.May, reasons),
                Reasons = reasons,
                Before = before?.Left,
                After = found.Left,
                // A driver at its limit shows something else; here it is asked what it would have to give.
                Readings = found.May == MayBeAdded.No
                    ? found.Readings
                    : Expected.Of(changed, assumed) as ExpectedReadings ?? found.Readings,
                Fittings = Volts(changed, question, found.Readings),
                Touch = ExtraLowVoltage.Assess(changed.Driver),
                LongestRuns = limits.WithLongestRuns ? LongestRuns.Of(question, limits, assumed) : [],
                Proposals = found.May == MayBeAdded.No && limits.MostProposals > 0
                    ? SmallestChange.Find(question, found, limits, assumed)
                    : [],
                Changed = changed,
            },
            null);
    }

    private static HeadroomResult Refused(CannotExpect refusal) =>
        new(null, refusal with { Field = "changed." + refusal.Field });

    private static Assessment? Before(CircuitModel circuit, HeadroomOptions options, Assumptions assumptions) =>
        circuit.Fittings.OrEmpty().IsEmpty ? null : Assessment.Of(circuit, options, assumptions);

    // A fault that the circuit has already is no less a reason, but it is not the new fittings' doing.
    private static ImmutableArray<HeadroomReason> Marked(
        ImmutableArray<HeadroomReason> reasons, Assessment? before) => before is null
        ? reasons
        : [.. reasons.Select(r => r with
        {
            AlreadySo = before.Reasons.Any(b => b.Limit == r.Limit && b.Refuses == r.Refuses
                && (b.Place == r.Place || r.Limit == HeadroomLimit.VoltageDrop)),
        })];

    private static ImmutableArray<FittingVolts> Volts(
        CircuitModel changed, HeadroomQuestion question, ExpectedReadings? readings)
    {
        if (readings is null) return [];
        var added = question.Fittings.Select(f => f.Id).ToHashSet(StringComparer.Ordinal);
        var driver = readings.DriverVoltsDc.Best;
        return
        [
            .. changed.Fittings.Zip(readings.Fittings)
                .Select(pair => new FittingVolts(
                    pair.First.Id, added.Contains(pair.First.Id), pair.Second.VoltsDc, pair.First.LeastVolts,
                    readings.Drive == DriveKind.ConstantVoltage
                        ? 100 * (driver - pair.Second.VoltsDc.Best) / driver
                        : null))
                .OrderBy(fitting => fitting.IsNew),
        ];
    }
}

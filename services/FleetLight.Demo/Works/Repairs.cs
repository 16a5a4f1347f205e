using FleetLight.Contracts.Facts;
using FleetLight.Demo.Physics;
using FleetLight.Demo.Planning;

namespace FleetLight.Demo.Works;

/// <summary>What goes wrong in the years after handover, and how it is mended.</summary>
internal static class Repairs
{
    private const int DaysUntilMended = 5;

    /// <summary>Days in which the resistance of the joint that goes bad doubles.</summary>
    public const int DoublingDays = 47;

    /// <summary>Power of the fitting that stands, or comes to stand, where another was designed, W.</summary>
    public const double OtherWatts = 2.6;

    /// <summary>What truly befalls a circuit, by its role.</summary>
    public static IReadOnlyList<Mishap> MishapsOf(World world, CircuitPlan circuit)
    {
        var always = DateTimeOffset.MinValue;
        var ever = DateTimeOffset.MaxValue;
        var chosen = circuit.ChosenFitting.FittingId;
        var struck = StruckAt(world, circuit);
        return circuit.Role switch
        {
            Role.WrongWattage => [new OtherFitting(always, ever, chosen, OtherWatts)],
            Role.Reversed => [new NoCurrent(always, ever, chosen)],
            // Nothing to see for half a year, then volts.
            Role.JointGoingBad => [new BadJoint(world.Anchor.AddDays(-305), ever, chosen, 0.05, DoublingDays)],
            Role.FittingMended => [new NoCurrent(struck, MendedAt(struck), chosen)],
            Role.JointMended => [new BadJoint(struck, MendedAt(struck), circuit.Chosen.Design.To, 3, double.PositiveInfinity)],
            Role.FittingChanged => [new OtherFitting(MendedAt(struck), ever, chosen, OtherWatts)],
            _ => [],
        };
    }

    /// <summary>Reports and mends what befalls a circuit of the site.</summary>
    public static void Mend(World world, SitePlan site)
    {
        foreach (var circuit in site.Circuits)
        {
            var (seen, done, watts) = circuit.Role switch
            {
                Role.FittingMended => ("The string is dark; a fitting was struck by a mower.", "The broken fitting replaced by one of its kind.", circuit.ChosenFitting.RatedWatts),
                Role.JointMended => ("The lights flicker after rain.", "Water in a box: the joint made again, the box dried and closed.", 0),
                Role.FittingChanged => ("One fitting is cracked.", "Replaced by a brighter one; its plate says 2.6 W.", OtherWatts),
                _ => ("", "", 0.0),
            };
            if (seen.Length > 0) Mend(world, site, circuit, seen, done, watts);
        }
    }

    private static void Mend(World world, SitePlan site, CircuitPlan circuit, string seen, string done, double plateWatts)
    {
        var struck = StruckAt(world, circuit);
        var chance = Chance.Of(world.Seed, $"{circuit.Id} repair");
        var faultId = $"{circuit.Id}-x1";
        var report = new Job(world, site, new WorkClock(struck.AddDays(1), chance));
        report.Did(new FaultReported { SiteId = site.Id, CircuitId = circuit.Id, FaultId = faultId, What = seen });

        var job = new Job(world, site, new WorkClock(struck.AddDays(DaysUntilMended), chance));
        var run = circuit.Runs.Single(each => each.Design.To == (plateWatts > 0 ? circuit.ChosenFitting.FittingId : circuit.Chosen.Design.To));
        if (plateWatts > 0) BoxWork.Fix(job, circuit, run, plateWatts);
        BoxWork.Joint(job, circuit, run);
        BoxWork.Close(job, circuit, run);
        job.Did(new RepairMade { SiteId = site.Id, CircuitId = circuit.Id, What = done, FaultIds = [faultId] });
        Readings.Take(world, circuit, job.Phone, () => job.Clock.Step());
        if (circuit.Role != Role.FittingChanged) return;
        job.Clock.NextMorning();
        job.Did(Crews.Tablet, Changed(circuit, plateWatts));
    }

    private static CircuitDesigned Changed(CircuitPlan circuit, double watts) => circuit.Design with
    {
        Fittings = [.. circuit.Design.Fittings.Select(fitting => fitting == circuit.ChosenFitting ? fitting with { RatedWatts = watts } : fitting)],
    };

    // After the handover of every old site, and long enough before the anchor for readings after the repair.
    private static DateTimeOffset StruckAt(World world, CircuitPlan circuit) =>
        world.Anchor.AddDays(-Chance.Of(world.Seed, $"{circuit.Id} struck").Whole(90, 420));

    private static DateTimeOffset MendedAt(DateTimeOffset struck) => WorkClock.Morning(struck.AddDays(DaysUntilMended));
}

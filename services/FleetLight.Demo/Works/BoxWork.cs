using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Demo.Planning;

namespace FleetLight.Demo.Works;

/// <summary>Fixing fittings, making joints and closing boxes.</summary>
internal static class BoxWork
{
    private const string Red = "red";
    private const string Black = "black";

    /// <summary>Fits out every box of a circuit.</summary>
    public static void FitOut(Job job, CircuitPlan circuit)
    {
        foreach (var run in circuit.Runs)
        {
            if (FittingOf(circuit, run) is { } fitting) Fix(job, circuit, run, fitting);
            Joint(job, circuit, run);
            Close(job, circuit, run);
        }
    }

    /// <summary>Joins the box that was recorded under two ids: the tablet's is found to be the phone's.</summary>
    public static void JoinBoxes(Job job, CircuitPlan circuit) => job.Did(Crews.Tablet, new ThingsJoined
    {
        SiteId = job.Site.Id,
        Kind = ThingKind.Box,
        KeptId = circuit.Chosen.Box.Id,
        SameId = SecondId(circuit.Chosen.Box),
    });

    /// <summary>Makes the joint at the far end of a run, or makes it again.</summary>
    public static void Joint(Job job, CircuitPlan circuit, RunPlan run)
    {
        var onward = circuit.Runs.Where(other => other.Design.From == run.Design.To).ToArray();
        var fitting = FittingOf(circuit, run)?.FittingId;
        job.Did(new JointMade
        {
            SiteId = job.Site.Id,
            BoxId = run.Box.Id,
            JointId = run.Box.Id.Replace("-b", "-j", StringComparison.Ordinal),
            CircuitId = circuit.Id,
            Arrangement = circuit.Design.Drive == DriveKind.ConstantCurrent ? JointArrangement.Series : JointArrangement.Parallel,
            Connectors = circuit.Design.Drive == DriveKind.ConstantCurrent
                ? Series(run, fitting!, onward.SingleOrDefault(), circuit.Role == Role.ThreeInConnector && run == circuit.Chosen)
                : Parallel(run, fitting, onward),
        });
    }

    /// <summary>Closes the box at the far end of a run.</summary>
    public static void Close(Job job, CircuitPlan circuit, RunPlan run)
    {
        var box = run.Box;
        var chosen = run == circuit.Chosen;
        var flat = box.Lie == BoxLie.FlatInGround;
        // In the box with two ids one crew member made the joint and another closed it, each on a device of their own.
        var twice = chosen && circuit.Role == Role.BoxUnderTwoIds;
        job.Did(twice ? Crews.Tablet : job.Phone, new BoxSealed
        {
            SiteId = job.Site.Id,
            BoxId = twice ? SecondId(box) : box.Id,
            Lie = box.Lie,
            Entry = box.Entry,
            StrainRelief = true,
            GelFilled = flat && (!chosen || circuit.Role != Role.BoxWithoutGel),
            Breathing = !flat,
            Label = box.Id.ToUpperInvariant(),
            Position = box.At.Point(),
        });
    }

    /// <summary>Fixes the fitting at the far end of a run, or another in its place.</summary>
    /// <param name="job">The job.</param>
    /// <param name="circuit">The circuit.</param>
    /// <param name="run">The run.</param>
    /// <param name="plateWatts">Power read off its plate, W; none where nobody read it.</param>
    public static void Fix(Job job, CircuitPlan circuit, RunPlan run, double? plateWatts) => job.Did(new FittingFixed
    {
        SiteId = job.Site.Id,
        CircuitId = circuit.Id,
        FittingId = run.Design.To,
        RatedWatts = plateWatts,
        Position = run.Box.At.Point(),
    });

    private static void Fix(Job job, CircuitPlan circuit, RunPlan run, FittingDesign fitting)
    {
        // Not everybody reads the plate. Nobody did where the wrong fitting stands, or it would not stand there.
        var wrong = circuit.Role == Role.WrongWattage && fitting == circuit.ChosenFitting;
        var read = !wrong && Chance.Of(job.World.Seed, $"plate of {fitting.FittingId}").Once(0.6);
        Fix(job, circuit, run, read ? fitting.RatedWatts : null);
    }

    private static FittingDesign? FittingOf(CircuitPlan circuit, RunPlan run) =>
        circuit.Design.Fittings.FirstOrDefault(fitting => fitting.FittingId == run.Design.To);

    private static string SecondId(BoxPlan box) => box.Id + "-by-the-steps";

    // The current comes in on brown, passes the fitting and leaves on the next brown; blue runs past, and turns at the end.
    private static Connector[] Series(RunPlan run, string fittingId, RunPlan? onward, bool crowded)
    {
        HeldConductor[] into = [Core(run, CableWork.Brown), Lead(fittingId, Red)];
        if (crowded) into = [.. into, Core(run, CableWork.Grey)];
        return onward is null
            ? [Of(into), Of([Lead(fittingId, Black), Core(run, CableWork.Blue)])]
            :
            [
                Of(into),
                Of([Lead(fittingId, Black), Core(onward, CableWork.Brown)]),
                Of([Core(run, CableWork.Blue), Core(onward, CableWork.Blue)]),
            ];
    }

    private static Connector[] Parallel(RunPlan run, string? fittingId, RunPlan[] onward) =>
        [Side(run, fittingId, onward, CableWork.Brown, Red), Side(run, fittingId, onward, CableWork.Blue, Black)];

    private static Connector Side(RunPlan run, string? fittingId, RunPlan[] onward, string core, string lead)
    {
        var held = new List<HeldConductor> { Core(run, core) };
        held.AddRange(onward.Select(other => Core(other, core)));
        if (fittingId is not null) held.Add(Lead(fittingId, lead));
        return Of([.. held]);
    }

    private static Connector Of(HeldConductor[] conductors) => new() { Conductors = conductors };

    private static HeldConductor Core(RunPlan run, string core) => new() { CableId = run.CableId, Core = core };

    private static HeldConductor Lead(string fittingId, string lead) => new() { FittingId = fittingId, Core = lead };
}

using System.Collections.Immutable;
using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>One circuit held against every limit.</summary>
/// <remarks>
/// The circuit is worked out as if its driver gave whatever is asked of it, so that what is lacking has a figure. A
/// limit of the driver is held against the upper end of the 95 % interval.
/// </remarks>
internal sealed class Assessment
{
    private readonly CircuitModel model;
    private readonly HeadroomOptions options;
    private readonly Assumptions assumptions;
    private readonly ImmutableArray<HeadroomReason>.Builder reasons = ImmutableArray.CreateBuilder<HeadroomReason>();

    private Assessment(CircuitModel model, HeadroomOptions options, Assumptions assumptions)
    {
        this.model = model;
        this.options = options;
        this.assumptions = assumptions;
    }

    /// <summary>The circuit.</summary>
    public CircuitModel Model => model;

    /// <summary>The answer.</summary>
    public MayBeAdded May { get; private set; }

    /// <summary>The reasons, those that refuse first.</summary>
    public ImmutableArray<HeadroomReason> Reasons { get; private set; } = [];

    /// <summary>What it reads if the driver gives what is asked; null where there is no operating point.</summary>
    public ExpectedReadings? Readings { get; private set; }

    /// <summary>Why there is no operating point.</summary>
    public CannotExpect? Obstacle { get; private set; }

    /// <summary>What the driver would have to give, margin included; null where it suffices.</summary>
    public DriverNeeded? Needed { get; private set; }

    /// <summary>What the driver has left.</summary>
    public DriverHeadroom? Left => Readings is null ? null : DriverHeadroom.Of(model.Driver, Readings);

    /// <summary>Works a circuit out.</summary>
    /// <param name="model">The circuit.</param>
    /// <param name="options">The limits.</param>
    /// <param name="assumptions">What is assumed.</param>
    /// <param name="first">Reasons that were found before, such as spare cores that are not there.</param>
    public static Assessment Of(
        CircuitModel model, HeadroomOptions options, Assumptions assumptions,
        ImmutableArray<HeadroomReason> first = default)
    {
        var found = new Assessment(model, options, assumptions);
        found.reasons.AddRange(first.OrEmpty());
        found.Work();
        found.Close();
        return found;
    }

    /// <summary>The circuit with a driver that gives whatever is asked.</summary>
    public static CircuitModel Unlimited(CircuitModel model) => model with
    {
        Driver = model.Driver with { LeastVolts = null, MostVolts = null, MostWatts = null, MostAmps = null },
    };

    private void Work()
    {
        var free = Unlimited(model);
        var outcome = Expected.Of(free, assumptions);
        Readings = outcome as ExpectedReadings;
        Obstacle = outcome as CannotExpect;
        Touch();
        if (Obstacle is { } obstacle) Collapses(obstacle);
        if (Readings is not { } readings) return;
        var bare = model.Drive == DriveKind.ConstantCurrent || model.Fittings.Any(f => f.Load != LoadKind.ConstantPower)
            ? Expected.Of(WithoutCable(free), assumptions) as ExpectedReadings
            : null;
        DriverCheck.Add(reasons, model, options, readings, bare, out var needed);
        Needed = needed;
        if (model.Drive == DriveKind.ConstantVoltage) FittingsGetTheirVolts(free, readings);
        ConductorsCarry(readings);
    }

    private void Close()
    {
        Reasons = [.. reasons.OrderByDescending(r => r.Refuses)];
        May = Reasons.IsEmpty ? MayBeAdded.Yes : Reasons[0].Refuses ? MayBeAdded.No : MayBeAdded.YesBut;
    }

    private static CircuitModel WithoutCable(CircuitModel model) => model with
    {
        Runs = [.. model.Runs.OrEmpty().Select(r => r with { LengthMetres = 0, JointOhms = 0 })],
    };

    private void FittingsGetTheirVolts(CircuitModel free, ExpectedReadings readings)
    {
        for (var i = 0; i < model.Fittings.Length; i++)
        {
            if (model.Fittings[i].LeastVolts is not { } least) continue;
            var volts = readings.Fittings[i].VoltsDc.Low95;
            // A fitting that has gone dark takes no current, and its volts recover: they say nothing.
            var dark = !(readings.Fittings[i].Watts > 0);
            if (volts >= least && !dark) continue;
            reasons.Add(new HeadroomReason(
                HeadroomLimit.FittingLeastVolts, true, model.Fittings[i].Id,
                dark
                    ? $"Fitting {model.Fittings[i].Id} does not get the {Plain.Figure(least)} V it needs and goes dark."
                    : $"Fitting {model.Fittings[i].Id} may get as little as {Plain.Figure(volts)} V and needs "
                        + $"{Plain.Figure(least)} V.",
                "the fitting's record")
            { Value = dark ? null : volts, LimitValue = least, Unit = "V" });
        }

        if (options.MostDropPercent is { } most) DropStaysBelow(free, most);
    }

    // A drop is usually worked out from the greatest resistance of the conductor table, so it is here.
    private void DropStaysBelow(CircuitModel free, double most)
    {
        var outcome = Expected.Of(free, assumptions with { ConductorBelowMaximumPercent = 0 });
        if (outcome is CannotExpect obstacle) Collapses(obstacle);
        if (outcome is not ExpectedReadings worst) return;
        var driver = worst.DriverVoltsDc.Best;
        var last = worst.Fittings.MinBy(f => f.VoltsDc.Best)!;
        var drop = 100 * (driver - last.VoltsDc.Best) / driver;
        if (!(drop > most)) return;
        reasons.Add(new HeadroomReason(
            HeadroomLimit.VoltageDrop, true, last.FittingId,
            $"The cable drops {Plain.Figure(drop)} % of the driver's volts to fitting {last.FittingId}; "
                + $"{Plain.Figure(most)} % is taken as the most.",
            VoltageDrop.UsualSource)
        { Value = drop, LimitValue = most, Unit = "%" });
    }

    private void Collapses(CannotExpect obstacle) => reasons.Add(new HeadroomReason(
        HeadroomLimit.VoltageCollapse, true, CircuitModel.DriverNode, obstacle.Text, "maximum power transfer")
    {
        Value = model.Fittings.Sum(f => f.RatedWatts),
        LimitValue = obstacle.GreatestWatts,
        Unit = "W",
    });

    private void ConductorsCarry(ExpectedReadings readings)
    {
        var amps = RunCurrents.Of(model, readings);
        var high = readings.DriverMilliamps.Best > 0
            ? readings.DriverMilliamps.High95 / readings.DriverMilliamps.Best
            : 1;
        for (var i = 0; i < amps.Length; i++)
        {
            var run = model.Runs[i];
            if (!(run.LengthMetres > 0)) continue;
            var rating = ConductorCurrent.Rating(run.AreaSquareMillimetres, run.Surroundings);
            if (rating is null || !(amps[i] * high > rating.Amps)) continue;
            reasons.Add(new HeadroomReason(
                HeadroomLimit.ConductorCurrent, true, run.Id,
                $"Run {run.Id} may carry {Plain.Figure(amps[i] * high)} A; "
                    + $"{Plain.Figure(run.AreaSquareMillimetres)} mm² is rated {Plain.Figure(rating.Amps)} A for "
                    + $"{rating.Holds}.",
                rating.Source)
            { Value = amps[i] * high, LimitValue = rating.Amps, Unit = "A" });
        }
    }

    private void Touch()
    {
        var touch = ExtraLowVoltage.Assess(model.Driver);
        if (touch.Class is TouchClass.BareWhereWet or TouchClass.BareWhereDry) return;
        reasons.Add(new HeadroomReason(
            HeadroomLimit.TouchVoltage, false, CircuitModel.DriverNode, touch.Text, touch.Source)
        {
            Value = touch.VoltsDc,
            LimitValue = ExtraLowVoltage.BareDryVoltsDc,
            Unit = "V",
        });
    }
}

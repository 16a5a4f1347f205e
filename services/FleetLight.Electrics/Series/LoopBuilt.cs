namespace FleetLight.Electrics;

/// <summary>A series loop with its changes, and with its inputs where they are.</summary>
internal sealed class LoopBuilt : BuiltCircuit
{
    /// <summary>
    /// Volts that a diode keeps which carries the loop's current past a fitting, V DC. Common practice, no source.
    /// </summary>
    public const double DiodeVolts = 0.8;

    /// <summary>
    /// A fitting for constant voltage in a series loop: our own assumption is that its voltage rises by a quarter of
    /// its rated one per rated current beyond the rated current.
    /// </summary>
    private static readonly LedCurve OtherDrive = new(0, 0.25);

    public LoopBuilt(CircuitModel model, Assumptions assumptions, LoopLayout layout, CableSet recorded)
        : base(model, assumptions, recorded)
    {
        Layout = layout;
        Amps = model.Driver.RatedMilliamps.GetValueOrDefault() / 1000;
        Parts = new LoopPart[model.Fittings.Length];
        for (var i = 0; i < Parts.Length; i++)
        {
            var fitting = model.Fittings[i];
            Parts[i] = Part(fitting.RatedWatts, fitting.TolerancePercent, Input.FirstFitting + i);
            Parts[i].Amps = (fitting.StatedMilliamps ?? model.Driver.RatedMilliamps.GetValueOrDefault()) / 1000;
            Parts[i].Position = layout.FittingPosition[i];
            Parts[i].Tail = recorded.Tails[i];
        }
    }

    /// <summary>Where everything stands.</summary>
    public LoopLayout Layout { get; }

    /// <summary>The fittings of the model, then those that are not in it.</summary>
    public LoopPart[] Parts { get; private set; }

    /// <summary>Resistance of each run with the inputs as they are, Ω.</summary>
    public double[] RunOhms { get; private set; } = [];

    /// <summary>The current that the driver is set to, A.</summary>
    public double Amps { get; private set; }

    /// <summary>Where the cores are connected, and by which resistance in Ω.</summary>
    public List<(int Position, double Ohms)> Bridges { get; } = [];

    /// <summary>Puts the inputs where they are and works out what follows from the changes together.</summary>
    public void Close(ReadOnlySpan<double> deviations)
    {
        var warmer = RelativeTemperature * At(deviations, Input.FittingTemperature);
        for (var i = 0; i < Parts.Length; i++)
        {
            ref var part = ref Parts[i];
            if (part.Kind == LoopPartKind.String)
            {
                if (IsReversed) Reverse(ref part, i);
                else if (!(part.Volts > 0)) part.Volts = part.Watts / part.Amps;
                else (part.Amps, part.Curve) = (part.Watts / part.Volts, OtherDrive);
            }

            if (part.Kind == LoopPartKind.String)
                part.Volts *= Math.Max(1e-9, 1 + (part.Relative * At(deviations, part.Input)) + warmer);
            part.TailOhms = part.Tail.OhmsAt(deviations, -1);
        }

        RunOhms = new double[Cables.Cables.Length];
        for (var r = 0; r < RunOhms.Length; r++)
            RunOhms[r] = Cables.Cables[r].OhmsAt(deviations, Input.OfRun(Model, r));
        Amps *= Math.Max(1e-9, 1 + (DriverRelative * At(deviations, Input.DriverOutput)));
    }

    /// <inheritdoc/>
    protected override bool? TryTakeOwn(CircuitChange change)
    {
        switch (change)
        {
            case FittingHasWatts(var fitting, var watts) when IsFitting(fitting) && CircuitCheck.IsWattage(watts):
                Parts[fitting].Watts = watts;
                return true;
            case FittingBypassed(var fitting, var volts) when IsFitting(fitting) && volts is >= 0 and <= 1500:
                Parts[fitting].Kind = LoopPartKind.Fixed;
                Parts[fitting].Volts = volts;
                return true;
            case FittingOpen(var fitting) when IsFitting(fitting):
                Parts[fitting].Kind = LoopPartKind.Open;
                return true;
            case FittingForOtherDrive(var fitting, var volts) when IsFitting(fitting) && volts is >= 0.001 and <= 1500:
                Parts[fitting].Kind = LoopPartKind.String;
                Parts[fitting].Volts = volts;
                return true;
            case FittingAdded(var node, var watts) when CircuitCheck.IsWattage(watts):
                return TryAdd(node, watts);
            case CoresBridged(var node, var ohms) when ohms is >= 0 and <= 1e12 && Layout.PositionOf(node) >= 0:
                Bridges.Add((Layout.PositionOf(node), ohms));
                return true;
            case DriverGives(var milliamps) when milliamps is >= 1 and <= 100_000:
                Amps = milliamps / 1000;
                return true;
            default:
                return null;
        }
    }

    private bool TryAdd(string? node, double watts)
    {
        var position = node is null ? Parts.Max(part => part.Position) : Layout.PositionOf(node);
        if (position < 0) return false;
        var part = Part(watts, Model.Fittings.Max(fitting => fitting.TolerancePercent), Input.OfAdded(Model));
        part.Amps = Model.Driver.RatedMilliamps.GetValueOrDefault() / 1000;
        part.Position = position;
        Parts = [.. Parts, part];
        return true;
    }

    private LoopPart Part(double watts, double tolerancePercent, int input) => new()
    {
        Watts = watts,
        Curve = Assumptions.Led,
        Relative = tolerancePercent / 100 / Root3,
        Input = input,
    };

    // A fitting that is not in the model has no diode that anyone knows of.
    private void Reverse(ref LoopPart part, int index)
    {
        var conducts = index < Model.Fittings.Length && Model.Fittings[index].HasBypassDiode == true;
        part.Kind = conducts ? LoopPartKind.Fixed : LoopPartKind.Blocked;
        part.Volts = conducts ? DiodeVolts : 0;
    }
}

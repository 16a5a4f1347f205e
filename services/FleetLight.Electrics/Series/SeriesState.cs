using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>A constant-current series circuit, sound or with a fault.</summary>
internal sealed record SeriesState : ICircuitState
{
    private const double Root3 = 1.7320508075688772;

    /// <summary>Voltage that a driver at its limit is taken to hold, relative standard uncertainty.</summary>
    private const double LimitSpread = 0.02;

    private readonly Assumptions assumptions;
    private readonly double driverTolerance;
    private readonly double? mostVolts;

    private SeriesState(CircuitModel model, Assumptions assumptions)
    {
        this.assumptions = assumptions;
        driverTolerance = model.Driver.OutputTolerancePercent / 100 / Root3;
        mostVolts = model.Driver.MostVolts;
        RatedAmps = model.Driver.RatedMilliamps.GetValueOrDefault() / 1000;
        CurrentRatio = 1;
        CableFactor = 1;
        Strings = [.. model.Fittings.Select(f => new SeriesFitting(
            f.Id, f.RatedWatts / RatedAmps, f.TolerancePercent / 100 / Root3))];
        Cables = [.. model.Runs.OrEmpty().Select(run => new Cable(run, assumptions))];
    }

    /// <summary>The fittings in loop order.</summary>
    public ImmutableArray<SeriesFitting> Strings { get; init; }

    /// <summary>The cable runs.</summary>
    public ImmutableArray<Cable> Cables { get; init; }

    /// <summary>The current at which the fittings' voltages are stated, A.</summary>
    public double RatedAmps { get; }

    /// <summary>The driver's current as a multiple of the rated one.</summary>
    public double CurrentRatio { get; init; }

    /// <summary>Multiple of the recorded cable resistance.</summary>
    public double CableFactor { get; init; }

    /// <summary>Resistance of a bad joint, Ω.</summary>
    public double JointOhms { get; init; }

    /// <inheritdoc/>
    public int Inputs => Input.FirstFitting + Strings.Length + Cables.Length;

    /// <summary>The circuit as designed.</summary>
    public static SeriesState Of(CircuitModel model, Assumptions assumptions) => new(model, assumptions);

    /// <summary>The loop's voltage at the current ratio, as if the driver could give any.</summary>
    public double VoltsAt(double ratio)
    {
        double forward = 0;
        foreach (var fitting in Strings) forward += fitting.Volts;
        return (forward * assumptions.Led.VoltsRatio(ratio)) + (RatedAmps * ratio * LoopOhms);
    }

    /// <summary>Resistance of the cable with a bad joint, Ω.</summary>
    public double LoopOhms
    {
        get
        {
            double ohms = 0;
            foreach (var cable in Cables) ohms += cable.Ohms;
            return (ohms * CableFactor) + JointOhms;
        }
    }

    /// <summary>
    /// The current ratio that the driver reaches: less than asked for where its voltage does not suffice.
    /// </summary>
    public double ReachedRatio
    {
        get
        {
            if (mostVolts is not { } most || VoltsAt(CurrentRatio) <= most) return CurrentRatio;
            double low = 0, high = CurrentRatio;
            for (var i = 0; i < 50; i++)
            {
                var middle = (low + high) / 2;
                if (VoltsAt(middle) > most) high = middle;
                else low = middle;
            }

            return low;
        }
    }

    /// <inheritdoc/>
    public ImmutableArray<string> Places => [];

    /// <inheritdoc/>
    public double LitShare(int fitting) => double.NaN;

    /// <inheritdoc/>
    public bool Predicts(string? place, MeasuredQuantity quantity) => quantity switch
    {
        MeasuredQuantity.Milliamps => place is not null,
        MeasuredQuantity.LoopOhms => place == CircuitModel.DriverNode,
        MeasuredQuantity.VoltsDc => place == CircuitModel.DriverNode || IndexOf(place) >= 0,
        _ => false,
    };

    /// <inheritdoc/>
    public double Predict(string place, MeasuredQuantity quantity, Span<double> parts)
    {
        parts.Clear();
        if (quantity == MeasuredQuantity.LoopOhms)
        {
            AddCable(parts, 1);
            return LoopOhms;
        }

        var ratio = ReachedRatio;
        var limited = ratio < CurrentRatio;
        if (quantity == MeasuredQuantity.Milliamps)
        {
            var milliamps = 1000 * RatedAmps * ratio;
            parts[Input.DriverOutput] = milliamps * (limited ? 5 * LimitSpread : driverTolerance);
            return milliamps;
        }

        if (place != CircuitModel.DriverNode) return PredictFitting(IndexOf(place), ratio, parts);
        if (limited)
        {
            parts[Input.DriverOutput] = mostVolts.GetValueOrDefault() * LimitSpread;
            return mostVolts.GetValueOrDefault();
        }

        return PredictDriver(ratio, parts);
    }

    private double PredictDriver(double ratio, Span<double> parts)
    {
        var led = assumptions.Led.VoltsRatio(ratio);
        double forward = 0;
        for (var i = 0; i < Strings.Length; i++)
        {
            var volts = Strings[i].Volts * led;
            forward += volts;
            parts[Input.FirstFitting + i] = volts * Strings[i].RelativeUncertainty;
        }

        var drop = RatedAmps * ratio * LoopOhms;
        parts[Input.DriverOutput] = ((forward * assumptions.Led.SlopeAtRated) + drop) * driverTolerance;
        parts[Input.FittingTemperature] = forward * RelativeTemperature;
        AddCable(parts, RatedAmps * ratio);
        return forward + drop;
    }

    private double PredictFitting(int index, double ratio, Span<double> parts)
    {
        if (index < 0) return double.NaN;
        var volts = Strings[index].Volts * assumptions.Led.VoltsRatio(ratio);
        parts[Input.DriverOutput] = volts * assumptions.Led.SlopeAtRated * driverTolerance;
        parts[Input.FittingTemperature] = volts * RelativeTemperature;
        parts[Input.FirstFitting + index] = volts * Strings[index].RelativeUncertainty;
        return volts;
    }

    private double RelativeTemperature => Math.Abs(assumptions.ForwardVoltsPerKelvinPerVolt)
        * assumptions.FittingTemperatureStandardUncertaintyKelvin;

    private void AddCable(Span<double> parts, double perOhm)
    {
        var scale = perOhm * CableFactor;
        for (var r = 0; r < Cables.Length; r++)
        {
            parts[Input.Conductor] += Cables[r].ByConductor * scale;
            parts[Input.Temperature + Cables[r].TemperatureGroup] += Cables[r].ByTemperature * scale;
            parts[Input.FirstFitting + Strings.Length + r] = Cables[r].ByLength * scale;
        }
    }

    private int IndexOf(string? id)
    {
        for (var i = 0; i < Strings.Length; i++)
            if (Strings[i].Id == id) return i;
        return -1;
    }
}

/// <summary>A fitting in a series loop.</summary>
/// <param name="Id">Its id; empty for one that is not in the design.</param>
/// <param name="Volts">Its voltage at the rated current, V.</param>
/// <param name="RelativeUncertainty">Relative standard uncertainty of that voltage.</param>
internal readonly record struct SeriesFitting(string Id, double Volts, double RelativeUncertainty);

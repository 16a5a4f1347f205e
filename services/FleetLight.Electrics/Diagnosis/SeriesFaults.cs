namespace FleetLight.Electrics;

/// <summary>The single faults of a constant-current series circuit.</summary>
internal sealed class SeriesFaults(CircuitModel model, SeriesState sound, DiagnosisOptions options, Weighing weighing)
{
    /// <summary>
    /// Voltage over the protection diode of a reversed fitting, V: between a Schottky's and a silicon diode's.
    /// </summary>
    private const double DiodeVolts = 0.7;

    /// <summary>Greatest extra-low voltage, V DC: what an unknown open-circuit voltage is below (IEC 61140).</summary>
    private const double ElvVolts = 120;

    private const double LeastJointOhms = 0.5;
    private const double MostJointOhms = 500;
    private const double MostLengthFactor = 5;
    private const double LeastWatts = 0.3;

    private static readonly Hypothesis Blank = new(default, 0, null!, default);

    /// <summary>Weighs every single fault.</summary>
    public void Weigh()
    {
        var priors = options.Priors;
        weighing.Add(Blank with { Kind = FaultKind.AsDesigned }, priors.AsDesigned, sound);
        var catalogue = Catalogue.Of(model, options);
        for (var i = 0; i < sound.Strings.Length; i++) WeighFitting(i, catalogue);
        foreach (var watts in catalogue) WeighExtra(watts, priors.OneFittingTooMany / catalogue.Length);
        WeighOpen();
        WeighDriver();
        WeighCable();
        WeighShorts();
    }

    private void WeighFitting(int i, double[] catalogue)
    {
        var priors = options.Priors;
        var count = sound.Strings.Length;
        var here = Blank with { Fitting = i };
        var rated = model.Fittings[i].RatedWatts;
        var others = catalogue.Count(w => w != rated);
        foreach (var watts in catalogue)
        {
            if (watts == rated) continue;
            weighing.Add(
                here with { Kind = FaultKind.FittingOfOtherWattage, Figure = watts },
                priors.FittingOfOtherWattage / count / others,
                With(i, watts / sound.RatedAmps));
        }

        var most = 4 * Math.Max(catalogue.DefaultIfEmpty(rated).Max(), rated);
        weighing.AddFamily(
            here with { Kind = FaultKind.FittingOfOtherWattage, FreeFigure = true },
            priors.FittingOfUnknownWattage / count,
            Math.Min(LeastWatts, rated / 2), most, rated, _ => 1 / most, watts => With(i, watts / sound.RatedAmps));
        weighing.Add(here with { Kind = FaultKind.FittingShorted }, priors.FittingShorted / count, With(i, 0));
        weighing.Add(
            here with { Kind = FaultKind.FittingMissing },
            priors.FittingMissing / count,
            sound with { Strings = sound.Strings.RemoveAt(i) });
        weighing.Add(
            here with { Kind = FaultKind.FittingReversed, Bypassed = true },
            priors.FittingReversed / count / 2, With(i, DiodeVolts));
        weighing.Add(
            here with { Kind = FaultKind.FittingReversed }, priors.FittingReversed / count / 2, OpenAt(i));
    }

    private void WeighExtra(double watts, double prior)
    {
        var extra = new SeriesFitting(
            "", watts / sound.RatedAmps, sound.Strings.Select(s => s.RelativeUncertainty).Max());
        weighing.Add(
            Blank with { Kind = FaultKind.OneFittingTooMany, Figure = watts },
            prior,
            sound with { Strings = sound.Strings.Add(extra) });
    }

    private void WeighOpen() =>
        weighing.Add(Blank with { Kind = FaultKind.OpenLoop }, options.Priors.OpenLoop, OpenAt(-1));

    private void WeighDriver()
    {
        var priors = options.Priors;
        var rated = model.Driver.RatedMilliamps.GetValueOrDefault();
        var others = options.DriverMilliamps.OrEmpty()
            .Where(ma => ma is >= 1 and <= 100_000 && ma != rated).Distinct().Take(16).ToArray();
        foreach (var other in others)
        {
            weighing.Add(
                Blank with { Kind = FaultKind.WrongDriverOutput, Figure = other },
                priors.WrongDriverOutput / others.Length,
                sound with { CurrentRatio = other / rated });
        }

        weighing.Add(
            Blank with { Kind = FaultKind.DriverNoOutput },
            priors.DriverNoOutput,
            Prediction.From(weighing.Readings, r => r.Quantity switch
            {
                MeasuredQuantity.VoltsDc => (0, 0.3),
                MeasuredQuantity.Milliamps => (0, 1),
                _ => (sound.LoopOhms, 0.1 * sound.LoopOhms),
            }));
        if (model.Driver.MostVolts is not { } most) return;
        // At its limit a driver holds about its greatest voltage and gives less current than rated, how much less
        // is open.
        weighing.Add(
            Blank with { Kind = FaultKind.DriverAtLimit },
            priors.DriverAtLimit,
            Prediction.From(weighing.Readings, r => r switch
            {
                { Quantity: MeasuredQuantity.VoltsDc, Place: CircuitModel.DriverNode } => (most, 0.02 * most),
                { Quantity: MeasuredQuantity.Milliamps } => (rated / 2, rated / Math.Sqrt(12)),
                _ => (double.NaN, 0),
            }));
    }

    private void WeighCable()
    {
        var priors = options.Priors;
        weighing.AddFamily(
            Blank with { Kind = FaultKind.HighResistanceJoint },
            priors.HighResistanceJoint, LeastJointOhms, MostJointOhms, LeastJointOhms,
            ohms => 1 / (ohms * Math.Log(MostJointOhms / LeastJointOhms)),
            ohms => sound with { JointOhms = ohms });
        if (!(sound.LoopOhms > 0)) return;
        weighing.AddFamily(
            Blank with { Kind = FaultKind.CableLonger },
            priors.CableLength / 2, 1.1, MostLengthFactor, 1.2,
            factor => 1 / (factor * Math.Log(MostLengthFactor / 1.1)),
            factor => sound with { CableFactor = factor });
        weighing.AddFamily(
            Blank with { Kind = FaultKind.CableShorter },
            priors.CableLength / 2, 1 / MostLengthFactor, 0.9, 0.8,
            factor => 1 / (factor * Math.Log(0.9 * MostLengthFactor)),
            factor => sound with { CableFactor = factor });
    }

    // A touch of the cores after k fittings leaves those k lit; the cable up to there is taken in proportion.
    private void WeighShorts()
    {
        var count = sound.Strings.Length;
        for (var k = 0; k < count; k++)
        {
            weighing.Add(
                Blank with { Kind = FaultKind.ShortBetweenCores, Figure = k },
                options.Priors.ShortBetweenCores / count,
                sound with { Strings = sound.Strings[..k], CableFactor = (k + 0.5) / count });
        }
    }

    private SeriesState With(int i, double volts) =>
        sound with { Strings = sound.Strings.SetItem(i, sound.Strings[i] with { Volts = volts }) };

    // The loop carries nothing; all of the driver's open-circuit voltage stands across the break.
    private Prediction OpenAt(int broken)
    {
        var driver = model.Driver;
        var floor = driver.MostVolts ?? sound.VoltsAt(1);
        var open = driver.OpenCircuitVolts ?? ((floor + Math.Max(floor, ElvVolts)) / 2);
        var spread = driver.OpenCircuitVolts is null
            ? Math.Max(0.05 * open, (Math.Max(floor, ElvVolts) - floor) / Math.Sqrt(12))
            : 0.05 * open;
        return Prediction.From(weighing.Readings, r => r switch
        {
            { Quantity: MeasuredQuantity.Milliamps } => (0, 1),
            { Quantity: MeasuredQuantity.LoopOhms } => (1e6, 3e5),
            { Place: CircuitModel.DriverNode } => (open, spread),
            _ when broken >= 0 && r.Place == sound.Strings[broken].Id => (open, spread),
            _ => (0, 0.5),
        });
    }
}

using FleetLight.Contracts;
using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Electrics;
using FleetLight.Record.Files;

namespace FleetLight.Record.Calculations.Mapping;

/// <summary>Circuits, assumptions and readings as they are asked about, as the electrics take them.</summary>
internal static class CircuitMapping
{
    /// <summary>What the contract says where a tolerance is absent, %.</summary>
    public const double DefaultTolerancePercent = 5;

    /// <summary>The circuit.</summary>
    public static CircuitModel Model(CircuitInput circuit) => new(
        circuit.Drive,
        Driver(circuit.Driver),
        [.. circuit.Fittings.Select(Fitting)],
        [.. circuit.Runs.Select(Run)]);

    /// <summary>What to assume.</summary>
    public static Assumptions Assumed(AssumptionsInput? given)
    {
        var defaults = Assumptions.Default;
        if (given is null) return defaults;
        return new Assumptions
        {
            Buried = Temperature(given.Buried) ?? defaults.Buried,
            InAir = Temperature(given.InAir) ?? defaults.InAir,
            WarmBox = Temperature(given.WarmBox) ?? defaults.WarmBox,
            StatedTemperatureStandardUncertaintyKelvin =
                given.StatedTemperatureStandardUncertaintyKelvin ?? defaults.StatedTemperatureStandardUncertaintyKelvin,
            ConductorBelowMaximumPercent = given.ConductorBelowMaximumPercent ?? defaults.ConductorBelowMaximumPercent,
            ForwardVoltsPerKelvinPerVolt = given.ForwardVoltsPerKelvinPerVolt ?? defaults.ForwardVoltsPerKelvinPerVolt,
            FittingTemperatureStandardUncertaintyKelvin =
                given.FittingTemperatureStandardUncertaintyKelvin ?? defaults.FittingTemperatureStandardUncertaintyKelvin,
            Led = given.Led is { } led ? new LedCurve(led.LogarithmicShare, led.ResistiveShare) : defaults.Led,
        };
    }

    /// <summary>A fitting.</summary>
    public static FittingModel Fitting(FittingInput fitting) => new(fitting.FittingId, fitting.RatedWatts)
    {
        TolerancePercent = fitting.TolerancePercent ?? DefaultTolerancePercent,
        Type = fitting.Description,
        LeastVolts = fitting.LeastVolts,
        Load = fitting.Load ?? LoadKind.ConstantPower,
        StatedMilliamps = fitting.StatedMilliamps,
        HasBypassDiode = fitting.BypassDiode,
        Tail = fitting.Tail is { } tail
            ? new TailModel(tail.LengthMetres, tail.AreaSquareMillimetres, tail.ConductorClass)
            : null,
    };

    /// <summary>A reading.</summary>
    public static MeasuredReading Reading(ReadingInput given) =>
        new(given.Place, WireWord.Of<MeasuredAs, MeasuredQuantity>(given.Quantity), given.Value)
        {
            Meter = Meter(given.Meter),
        };

    /// <summary>The accuracy of a meter; none where it is not known.</summary>
    public static MeterAccuracy? Meter(Contracts.Facts.MeterAccuracy? given) =>
        given is { } meter ? new MeterAccuracy(meter.PercentOfReading, meter.Digits, meter.Resolution) : null;

    /// <summary>By which risks to judge.</summary>
    public static DecisionRule Rule(RuleInput? given)
    {
        var defaults = DecisionRule.Default;
        return given is null
            ? defaults
            : new DecisionRule
            {
                GreatestRiskOfFailingGood = given.FalseAlarmPercent / 100 ?? defaults.GreatestRiskOfFailingGood,
                GreatestRiskOfPassingBad = given.MissedFaultPercent / 100 ?? defaults.GreatestRiskOfPassingBad,
                PriorAsDesigned = given.AsDesignedPercent / 100 ?? defaults.PriorAsDesigned,
                SmallestDifferencePercent = given.SmallestDifferencePercent,
            };
    }

    private static AssumedTemperature? Temperature(TemperatureInput? given) =>
        given is null ? null : new AssumedTemperature(given.Celsius, given.StandardUncertaintyKelvin);

    private static DriverModel Driver(DriverInput driver) => new()
    {
        RatedMilliamps = driver.RatedMilliamps,
        RatedVolts = driver.RatedVolts,
        LeastVolts = driver.LeastVolts,
        MostVolts = driver.MostVolts,
        MostWatts = driver.MostWatts,
        MostAmps = driver.MostAmps,
        OpenCircuitVolts = driver.OpenCircuitVolts,
        OutputTolerancePercent = driver.TolerancePercent ?? DefaultTolerancePercent,
    };

    private static RunModel Run(RunInput run) => new(
        run.RunId, run.From, run.To, run.LengthMetres, run.AreaSquareMillimetres, run.ConductorClass)
    {
        LengthTolerancePercent = run.LengthTolerancePercent ?? DefaultTolerancePercent,
        Surroundings = run.Surroundings ?? RunSurroundings.Buried,
        ConductorCelsius = run.ConductorCelsius,
        ConductorsInLoop = run.ConductorsInLoop ?? 2,
        JointOhms = run.JointOhms ?? 0,
    };
}

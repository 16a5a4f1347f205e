using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Electrics;
using FleetLight.Record.Files;

namespace FleetLight.Record.Calculations;

/// <summary>
/// What the electrics take, as a request for a calculation says it: the way back of what reads requests. Reading what is
/// written here gives the same again.
/// </summary>
public static class AsRequested
{
    /// <summary>A circuit.</summary>
    public static CircuitInput Circuit(CircuitModel model)
    {
        ArgumentNullException.ThrowIfNull(model);
        return new()
        {
            Drive = model.Drive,
            Driver = Driver(model.Driver),
            Fittings = [.. model.Fittings.Select(Fitting)],
            Runs = [.. model.Runs.Select(Run)],
        };
    }

    /// <summary>What is assumed, every member of it.</summary>
    public static AssumptionsInput Assumed(Assumptions assumed)
    {
        ArgumentNullException.ThrowIfNull(assumed);
        return new()
        {
            Buried = Temperature(assumed.Buried),
            InAir = Temperature(assumed.InAir),
            WarmBox = Temperature(assumed.WarmBox),
            StatedTemperatureStandardUncertaintyKelvin = assumed.StatedTemperatureStandardUncertaintyKelvin,
            ConductorBelowMaximumPercent = assumed.ConductorBelowMaximumPercent,
            ForwardVoltsPerKelvinPerVolt = assumed.ForwardVoltsPerKelvinPerVolt,
            FittingTemperatureStandardUncertaintyKelvin = assumed.FittingTemperatureStandardUncertaintyKelvin,
            Led = new LedInput { LogarithmicShare = assumed.Led.LogarithmicShare, ResistiveShare = assumed.Led.ResistiveShare },
        };
    }

    /// <summary>By which risks readings are judged.</summary>
    public static RuleInput Rule(DecisionRule rule)
    {
        ArgumentNullException.ThrowIfNull(rule);
        return new()
        {
            FalseAlarmPercent = Percent(rule.GreatestRiskOfFailingGood),
            MissedFaultPercent = Percent(rule.GreatestRiskOfPassingBad),
            AsDesignedPercent = Percent(rule.PriorAsDesigned),
            SmallestDifferencePercent = rule.SmallestDifferencePercent,
        };
    }

    /// <summary>What a diagnosis looks for.</summary>
    public static LookForInput LookFor(DiagnosisOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        return new()
        {
            CatalogueWatts = [.. options.CatalogueWatts],
            DriverMilliamps = [.. options.DriverMilliamps],
            DriverVolts = [.. options.DriverVoltsDc],
            Priors = options.Priors.Count == 0
                ? null
                :
                [
                    .. options.Priors.OrderBy(prior => prior.Key).Select(prior => new PriorInput
                    {
                        Fault = WireWord.Of<FaultKind, KindOfFault>(prior.Key), Prior = prior.Value,
                    }),
                ],
        };
    }

    /// <summary>What measuring takes, every member of it.</summary>
    public static EffortInput Effort(MeasuringEffort effort)
    {
        ArgumentNullException.ThrowIfNull(effort);
        return new()
        {
            WalkMinutes = effort.WalkMinutes,
            OpenBoxMinutes = effort.OpenBoxMinutes,
            OpenFittingMinutes = effort.OpenFittingMinutes,
            DigMinutes = effort.DigMinutes,
            VoltsMinutes = effort.VoltsMinutes,
            MilliampsMinutes = effort.MilliampsMinutes,
            IsolateMinutes = effort.IsolateMinutes,
            OhmsMinutes = effort.OhmsMinutes,
            BridgeFittingMinutes = effort.BridgeFittingMinutes,
            LookMinutes = effort.LookMinutes,
        };
    }

    /// <summary>A place where a meter can be put.</summary>
    public static PlaceInput Place(MeasuringPlace place)
    {
        ArgumentNullException.ThrowIfNull(place);
        return new()
        {
            Place = place.Id,
            Access = WireWord.Of<PlaceAccess, ReachOfPlace>(place.Access),
            EffortMinutes = place.EffortMinutes,
            IsOpen = place.IsOpen ? true : null,
        };
    }

    /// <summary>What was measured.</summary>
    public static ReadingInput Reading(MeasuredReading reading)
    {
        ArgumentNullException.ThrowIfNull(reading);
        return new()
        {
            Place = reading.Place,
            Quantity = WireWord.Of<MeasuredQuantity, MeasuredAs>(reading.Quantity),
            Value = reading.Value,
            Meter = reading.Meter is { } meter
                ? new Contracts.Facts.MeterAccuracy { PercentOfReading = meter.PercentOfReading, Digits = meter.Digits, Resolution = meter.Resolution }
                : null,
        };
    }

    /// <summary>A probability in %, without the last digits that a division by 100 leaves.</summary>
    public static double Percent(double probability) => Math.Round(100 * probability, 10);

    private static TemperatureInput Temperature(AssumedTemperature assumed) =>
        new() { Celsius = assumed.Celsius, StandardUncertaintyKelvin = assumed.StandardUncertaintyKelvin };

    private static DriverInput Driver(DriverModel driver) => new()
    {
        RatedMilliamps = driver.RatedMilliamps,
        RatedVolts = driver.RatedVolts,
        LeastVolts = driver.LeastVolts,
        MostVolts = driver.MostVolts,
        MostWatts = driver.MostWatts,
        MostAmps = driver.MostAmps,
        OpenCircuitVolts = driver.OpenCircuitVolts,
        TolerancePercent = driver.OutputTolerancePercent,
    };

    private static FittingInput Fitting(FittingModel fitting) => new()
    {
        FittingId = fitting.Id,
        RatedWatts = fitting.RatedWatts,
        TolerancePercent = fitting.TolerancePercent,
        LeastVolts = fitting.LeastVolts,
        Load = fitting.Load,
        StatedMilliamps = fitting.StatedMilliamps,
        BypassDiode = fitting.HasBypassDiode,
        Description = fitting.Type,
        Tail = fitting.Tail is { } tail
            ? new TailInput
            {
                LengthMetres = tail.LengthMetres,
                AreaSquareMillimetres = tail.AreaSquareMillimetres,
                ConductorClass = tail.ConductorClass,
            }
            : null,
    };

    private static RunInput Run(RunModel run) => new()
    {
        RunId = run.Id,
        From = run.From,
        To = run.To,
        LengthMetres = run.LengthMetres,
        AreaSquareMillimetres = run.AreaSquareMillimetres,
        ConductorClass = run.ConductorClass,
        LengthTolerancePercent = run.LengthTolerancePercent,
        Surroundings = run.Surroundings,
        ConductorCelsius = run.ConductorCelsius,
        ConductorsInLoop = run.ConductorsInLoop,
        JointOhms = run.JointOhms,
    };
}

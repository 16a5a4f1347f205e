using System.Runtime.InteropServices;
using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>What a constant-current series circuit should read.</summary>
/// <remarks>
/// The driver holds one current through all fittings; its voltage is the sum of their forward voltages (rated watts
/// divided by rated current) and of current times cable resistance. Uncertainty is first order (GUM 5.1), with the
/// driver's current, the temperatures and the conductor taken as common to all parts.
/// </remarks>
internal static class SeriesExpectation
{
    private const double Root3 = 1.7320508075688772;

    public static ExpectedOutcome Of(CircuitModel model, Assumptions assumptions)
    {
        var driver = model.Driver;
        var amps = driver.RatedMilliamps.GetValueOrDefault() / 1000;
        var byDriver = driver.OutputTolerancePercent / 100 / Root3;
        var byTemperature = Math.Abs(assumptions.ForwardVoltsPerKelvinPerVolt)
            * assumptions.FittingTemperatureStandardUncertaintyKelvin;
        var slope = assumptions.Led.SlopeAtRated;

        var volts = new BudgetBuilder();
        var watts = new BudgetBuilder();
        double forward = 0;
        var fittings = new FittingExpectation[model.Fittings.Length];
        for (var i = 0; i < fittings.Length; i++)
        {
            var fitting = model.Fittings[i];
            var forwardVolts = fitting.RatedWatts / amps;
            var byPower = forwardVolts * fitting.TolerancePercent / 100 / Root3;
            forward += forwardVolts;
            volts.Rectangular(UncertaintySource.FittingPower, byPower);
            watts.Rectangular(UncertaintySource.FittingPower, byPower * amps);

            var own = new BudgetBuilder();
            own.Rectangular(UncertaintySource.FittingPower, byPower);
            own.Rectangular(UncertaintySource.DriverOutput, forwardVolts * slope * byDriver);
            own.Normal(UncertaintySource.FittingTemperature, forwardVolts * byTemperature);
            fittings[i] = new FittingExpectation(fitting.Id, own.Close(forwardVolts), fitting.RatedWatts);
        }

        var loop = SeriesLoop.Of(model.Runs.OrEmpty(), assumptions);
        var best = forward + (amps * loop.Ohms);
        loop.AddTo(ref volts, amps);
        loop.AddTo(ref watts, amps * amps);
        volts.Normal(UncertaintySource.FittingTemperature, forward * byTemperature);
        watts.Normal(UncertaintySource.FittingTemperature, forward * byTemperature * amps);
        // More current raises the forward voltages a little and the cable's drop in proportion.
        var perUnitCurrent = (forward * slope) + (amps * loop.Ohms);
        volts.Rectangular(UncertaintySource.DriverOutput, perUnitCurrent * byDriver);
        watts.Rectangular(UncertaintySource.DriverOutput, (best + perUnitCurrent) * amps * byDriver);
        var current = new BudgetBuilder();
        current.Rectangular(UncertaintySource.DriverOutput, amps * 1000 * byDriver);
        var ohms = new BudgetBuilder();
        loop.AddTo(ref ohms, 1);

        var driverVolts = volts.Close(best);
        var driverWatts = watts.Close(best * amps);
        var refusal = DriverWindow.ConstantCurrentObstacle(driver, driverVolts, driverWatts);
        if (refusal is not null) return refusal;
        return new ExpectedReadings
        {
            Drive = DriveKind.ConstantCurrent,
            DriverVoltsDc = driverVolts,
            DriverMilliamps = current.Close(amps * 1000),
            DriverWatts = driverWatts,
            CableLoopOhms = ohms.Close(loop.Ohms),
            CableLoopOhmsAtMost = loop.OhmsAtMost,
            Loading = DriverWindow.Loading(driver, best, best * amps, amps),
            Fittings = ImmutableCollectionsMarshal.AsImmutableArray(fittings),
            WorstDropPercent = 100 * amps * loop.Ohms / best,
            Notes = DriverWindow.Notes(driver, DriveKind.ConstantCurrent, driverVolts, driverWatts, amps),
        };
    }
}

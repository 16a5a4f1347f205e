using FleetLight.Contracts;
using FsCheck;
using FsCheck.Xunit;

namespace FleetLight.Electrics.Tests.Units;

/// <summary>
/// Wherever the library changes a unit, there and back again is the same figure, and the factor is that of the SI.
/// </summary>
public class UnitRoundTripTests
{
    private static readonly ConductorClass[] Classes = Enum.GetValues<ConductorClass>();

    /// <summary>mA and A: what the driver is rated in, and what volts and watts follow from.</summary>
    [Property(MaxTest = 300)]
    public bool Milliamps_and_amps(PositiveInt seed)
    {
        var random = new Random(seed.Get);
        var milliamps = 100 + (1000 * random.NextDouble());
        var model = Some.Series(1 + random.NextDouble(), 2) with
        {
            Driver = new DriverModel { RatedMilliamps = milliamps },
            Runs = [Some.Run("driver", "f1", 100 * random.NextDouble(), 1.5)],
        };
        var reads = Some.Readings(model);
        var amps = reads.DriverMilliamps.Best / 1000;
        return Same(milliamps, reads.DriverMilliamps.Best)
            && Same(reads.DriverWatts.Best, reads.DriverVoltsDc.Best * amps)
            && model.Fittings.Zip(reads.Fittings).All(p => Same(p.First.RatedWatts, p.Second.VoltsDc.Best * amps))
            && Same(
                reads.DriverVoltsDc.Best - reads.Fittings.Sum(f => f.VoltsDc.Best),
                amps * reads.CableLoopOhms!.Best);
    }

    /// <summary>mA that a reading shows, A that a driver is rated in, W that follow.</summary>
    [Property(MaxTest = 300)]
    public bool Amps_of_a_constant_voltage_driver(PositiveInt seed)
    {
        var random = new Random(seed.Get);
        var model = Some.SixNodeTree();
        var most = 3 + random.NextDouble();
        model = model with { Driver = model.Driver with { MostAmps = most, MostWatts = 12 * most } };
        var reads = Some.Readings(model);
        var left = DriverHeadroom.Of(model.Driver, reads);
        return Same(most, left.Amps!.Value + (reads.DriverMilliamps.Best / 1000))
            && Same(most * reads.Loading.PercentOfMostAmps!.Value / 100, reads.DriverMilliamps.Best / 1000)
            && Same(12 * most, left.Watts!.Value + reads.DriverWatts.Best)
            && Same(12 * left.Amps!.Value, left.Watts.Value);
    }

    /// <summary>Percent of the greatest volts and the volts that are left.</summary>
    [Property(MaxTest = 300)]
    public bool Percent_and_volts_of_a_driver(PositiveInt seed)
    {
        var random = new Random(seed.Get);
        var driver = new DriverModel { RatedMilliamps = 350, MostVolts = 20 + (20 * random.NextDouble()) };
        var reads = Some.Readings(Some.Series(1 + random.NextDouble(), 1, 1) with { Driver = driver });
        var left = DriverHeadroom.Of(driver, reads).VoltsDc!.Value;
        return Same(100 * (driver.MostVolts!.Value - left) / driver.MostVolts.Value,
            reads.Loading.PercentOfMostVolts!.Value);
    }

    /// <summary>Ω/km and mΩ/m are one figure; km and m, one core and the loop of two.</summary>
    [Fact]
    public void Ohms_per_kilometre_are_milliohms_per_metre()
    {
        foreach (var kind in Classes)
        {
            foreach (var area in ConductorResistance.StandardAreasSquareMillimetres)
            {
                Assert.True(ConductorResistance.TryOhmsPerKilometreAt20(kind, area, out var perKilometre));
                var milliohmsOfOneMetre = 1000 * Loop(1, area, kind) / 2;
                Assert.Equal(perKilometre, milliohmsOfOneMetre, 1e-9);
                Assert.Equal(perKilometre, Loop(1000, area, kind) / 2, 1e-9);
                Assert.Equal(perKilometre, 1000 * ContinuityAndPolarity.MostOhms(1, area, kind)!.Value, 1e-9);
                // Two cores: mV for each ampere and metre are twice the mΩ of one metre.
                Assert.Equal(
                    2 * milliohmsOfOneMetre, VoltageDrop.MillivoltsPerAmpereMetre(kind, area, 20)!.Value, 1e-9);
            }
        }
    }

    /// <summary>mV/A/m times metres times amperes is the drop in mV.</summary>
    [Property(MaxTest = 300)]
    public bool Millivolts_per_ampere_metre_and_volts(PositiveInt seed)
    {
        var random = new Random(seed.Get);
        var (metres, milliamps) = (200 * random.NextDouble(), 100 + (900 * random.NextDouble()));
        var kind = Classes[random.Next(Classes.Length)];
        var model = Some.Series(2) with
        {
            Driver = new DriverModel { RatedMilliamps = milliamps },
            Runs = [Some.Run("driver", "f1", metres, 2.5, kind)],
        };
        var reads = Some.Readings(model, Some.Bare);
        var drop = reads.DriverVoltsDc.Best - reads.Fittings[0].VoltsDc.Best;
        var perUnit = VoltageDrop.MillivoltsPerAmpereMetre(kind, 2.5, 20)!.Value;
        return Same(1000 * drop, perUnit * metres * milliamps / 1000)
            && Same(reads.WorstDropPercent, 100 * drop / reads.DriverVoltsDc.Best);
    }

    /// <summary>Ω·mm²/m, m, A and mm² give V, and the metres come back from the volts.</summary>
    [Property(MaxTest = 300)]
    public bool Volts_of_annex_G_and_metres(PositiveInt seed)
    {
        var random = new Random(seed.Get);
        var (metres, area) = (1 + (200 * random.NextDouble()), 1 + random.NextDouble());
        var amps = 0.1 + random.NextDouble();
        var volts = VoltageDrop.AnnexGVolts(metres, area, amps)!.Value;
        return Same(metres, volts * area / (2 * VoltageDrop.AnnexGResistivity * amps))
            && Same(volts, 2 * VoltageDrop.AnnexGVolts(metres, 2 * area, amps)!.Value)
            && Same(volts, VoltageDrop.AnnexGVolts(1000 * metres, 1000 * area, amps)!.Value);
    }

    /// <summary>A resistance at 20 °C, at another temperature and back.</summary>
    [Property(MaxTest = 300)]
    public bool Ohms_at_a_temperature_and_at_20_degrees(PositiveInt seed)
    {
        var random = new Random(seed.Get);
        var (ohms, celsius) = (100 * random.NextDouble(), -60 + (210 * random.NextDouble()));
        return Same(ohms, ConductorResistance.At20(ConductorResistance.AtTemperature(ohms, celsius), celsius)!.Value);
    }

    /// <summary>
    /// Degrees of a bend and radians of the capstan relation: halves make the whole, and 180° is e^(µπ).
    /// </summary>
    [Property(MaxTest = 300)]
    public bool Degrees_and_radians(PositiveInt seed)
    {
        var random = new Random(seed.Get);
        var (degrees, friction, newtons) = (360 * random.NextDouble(), random.NextDouble(), 1 + random.NextDouble());
        var halves = DuctPull.AfterBend(DuctPull.AfterBend(newtons, degrees / 2, friction), degrees / 2, friction);
        return Same(halves, DuctPull.AfterBend(newtons, degrees, friction))
            && Same(Math.Log(halves / newtons) / friction * 180 / Math.PI, degrees)
            && Same(Math.Exp(friction * Math.PI), DuctPull.AfterBend(1, 180, friction));
    }

    /// <summary>Kilograms per metre weigh newtons, and mm² of copper permit newtons.</summary>
    [Property(MaxTest = 300)]
    public bool Newtons_of_mass_and_of_copper(PositiveInt seed)
    {
        var random = new Random(seed.Get);
        var (metres, mass) = (1 + (99 * random.NextDouble()), 0.1 + random.NextDouble());
        var copper = 1 + random.NextDouble();
        var pull = DuctPull.Along([new(metres)], mass, copper).Value!;
        return Same(mass, pull.ForceNewtons / (DuctPull.Gravity * DuctPull.DefaultFriction * metres))
            && Same(copper, pull.PermittedNewtons / PullLimit.European)
            && Same(pull.ForceNewtons, pull.PercentOfPermitted * pull.PermittedNewtons / 100);
    }

    /// <summary>Diameters in mm make a fill in percent, and the percent make the diameter again.</summary>
    [Property(MaxTest = 300)]
    public bool Percent_and_millimetres_of_a_duct(PositiveInt seed)
    {
        var random = new Random(seed.Get);
        var (bore, cable) = (20 + (80 * random.NextDouble()), 1 + (19 * random.NextDouble()));
        var fill = DuctFill.Of(bore, [cable]).Value!.FillPercent;
        var inMetres = DuctFill.Of(10 * bore, [10 * cable]).Value!.FillPercent;
        return Same(cable, bore * Math.Sqrt(fill / 100)) && Same(fill, inMetres);
    }

    /// <summary>Seconds of the table and milliseconds of the tester.</summary>
    [Fact]
    public void Seconds_and_milliseconds()
    {
        foreach (var system in Enum.GetValues<EarthingSystem>())
        {
            var seconds = DisconnectionTime.MostSeconds(system, 230)!.Value;
            Assert.Equal(seconds, DisconnectionTime.Judge(system, 230, 1).Limit!.Value / 1000, 1e-12);
        }
    }

    /// <summary>
    /// A meter's percent and digits in the unit of the reading: the limit of a scaled reading scales with it.
    /// </summary>
    [Property(MaxTest = 300)]
    public bool A_meter_reads_alike_in_any_unit(PositiveInt seed)
    {
        var random = new Random(seed.Get);
        var (percent, digits, amps) = (5 * random.NextDouble(), random.Next(10), random.NextDouble());
        var inAmps = new MeterAccuracy(percent, digits, 0.001).LimitAt(amps);
        var inMilliamps = new MeterAccuracy(percent, digits, 1).LimitAt(1000 * amps);
        return Same(1000 * inAmps, inMilliamps);
    }

    private static double Loop(double metres, double area, ConductorClass kind)
    {
        var model = Some.Series(1) with { Runs = [Some.Run("driver", "f1", metres, area, kind)] };
        return Some.Readings(model, Some.Bare).CableLoopOhms!.Best;
    }

    private static bool Same(double a, double b) => Math.Abs(a - b) <= 1e-9 * Math.Max(1, Math.Abs(a));
}

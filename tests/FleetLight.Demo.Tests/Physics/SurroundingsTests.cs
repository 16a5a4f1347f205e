using FleetLight.Contracts;
using FleetLight.Demo.Physics;

namespace FleetLight.Demo.Tests.Physics;

public sealed class SurroundingsTests
{
    private static readonly DateTimeOffset January = new(2026, 1, 20, 17, 0, 0, TimeSpan.Zero);
    private static readonly DateTimeOffset July = new(2026, 7, 20, 17, 0, 0, TimeSpan.Zero);

    [Fact]
    public void The_soil_swings_less_than_the_air()
    {
        var season = new Season(1);
        Assert.InRange(season.AirCelsius(January), -5, 9);
        Assert.InRange(season.AirCelsius(July), 13, 26);
        Assert.InRange(Season.SoilCelsius(July) - Season.SoilCelsius(January), 7, 11);
    }

    [Theory]
    [InlineData(0.75, ConductorClass.Class5, 26.0)]
    [InlineData(1.5, ConductorClass.Class2, 12.1)]
    [InlineData(2.5, ConductorClass.Class5, 7.98)]
    public void The_greatest_resistance_is_that_of_IEC_60228(double area, ConductorClass conductorClass, double ohms) =>
        Assert.Equal(ohms, Copper.MostOhmsPerKilometre(area, conductorClass));

    [Fact]
    public void Warm_copper_resists_more() =>
        // IEC 60028: 0.1 Ω at 20 °C is 0.11179 Ω at 50 °C.
        Assert.Equal(0.11179, Copper.At(0.1, 50), 0.00001);

    [Fact]
    public void A_meter_keeps_within_its_stated_accuracy()
    {
        for (var each = 0; each < 200; each++)
        {
            var meter = new Meter(better: each % 2 == 0, Chance.Of(each, "meter"));
            var noise = Chance.Of(each, "noise");
            var accuracy = meter.VoltsAccuracy;
            var limit = accuracy is null ? 0.12 + 0.03 : (12 * accuracy.PercentOfReading / 100) + (accuracy.Digits * accuracy.Resolution);
            Assert.Equal(12, meter.Volts(12, noise), limit);
        }
    }

    [Fact]
    public void A_bad_joint_doubles_its_resistance()
    {
        var joint = new BadJoint(January, DateTimeOffset.MaxValue, "f1", 0.05, 47);
        Assert.False(joint.IsAt(January.AddDays(-1)));
        Assert.Equal(0.05, joint.OhmsAt(January), 1e-12);
        Assert.Equal(0.4, joint.OhmsAt(January.AddDays(3 * 47)), 1e-9);
    }
}

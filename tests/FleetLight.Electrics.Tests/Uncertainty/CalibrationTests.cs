using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.Uncertainties;

/// <summary>
/// Calibration by simulation: circuits that are sound, built with what the design leaves open drawn at random (JCGM
/// 101), read with a meter that errs within its accuracy. Seeded, so that a failure can be run again.
/// </summary>
public class CalibrationTests
{
    private const int Circuits = 20_000;

    [Theory]
    [InlineData(1, DriveKind.ConstantCurrent)]
    [InlineData(2, DriveKind.ConstantVoltage)]
    public void The_95_percent_interval_covers_95_percent_of_healthy_readings(int seed, DriveKind drive)
    {
        var draw = new Simulation(seed);
        int within = 0, outside = 0;
        for (var i = 0; i < Circuits; i++)
        {
            var design = drive == DriveKind.ConstantCurrent ? draw.SeriesDesign() : draw.TreeDesign();
            var expected = Assert.IsType<ExpectedReadings>(Expected.Of(design));
            var verdict = Verdicts.Judge(expected, draw.ReadSomething(design, expected));
            Assert.Equal(VerdictReason.Compared, verdict.Reason);
            if (verdict.Kind == VerdictKind.Within) within++;
            if (verdict.Kind == VerdictKind.Outside) outside++;
        }

        Assert.InRange(within / (double)Circuits, 0.94, 0.96);
        Assert.InRange(outside / (double)Circuits, 0, 0.005);
    }
}

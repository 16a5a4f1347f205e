using System.Collections.Immutable;
using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.Diagnoses;

/// <summary>
/// Each fault of the catalogue on each drive: put into circuits built with all tolerances drawn at random, read with a meter
/// that errs at places where the fault can be told, and found. The shares asked for are below what was measured; what is
/// missing to 1 is chance errors that make another fault likelier.
/// </summary>
public class EachFaultTests
{
    private const int Circuits = 60;

    private static readonly string[] Names = ["f1", "f2", "f3", "f4", "f5", "f6"];

    [Theory]
    [InlineData(FaultKind.AsDesigned, DriveKind.ConstantCurrent, 0.97)]
    [InlineData(FaultKind.AsDesigned, DriveKind.ConstantVoltage, 0.97)]
    [InlineData(FaultKind.FittingOfOtherWattage, DriveKind.ConstantCurrent, 0.97)]
    [InlineData(FaultKind.FittingOfOtherWattage, DriveKind.ConstantVoltage, 0.8)]
    [InlineData(FaultKind.FittingOfUnlistedWattage, DriveKind.ConstantCurrent, 0.9)]
    [InlineData(FaultKind.FittingOfUnlistedWattage, DriveKind.ConstantVoltage, 0.8)]
    [InlineData(FaultKind.TwoFittingsOfOtherWattage, DriveKind.ConstantCurrent, 0.97)]
    [InlineData(FaultKind.FittingReversed, DriveKind.ConstantCurrent, 0.97)]
    [InlineData(FaultKind.FittingReversed, DriveKind.ConstantVoltage, 0.85)]
    [InlineData(FaultKind.FittingShorted, DriveKind.ConstantCurrent, 0.97)]
    [InlineData(FaultKind.FittingShorted, DriveKind.ConstantVoltage, 0.85)]
    [InlineData(FaultKind.FittingOpen, DriveKind.ConstantCurrent, 0.97)]
    [InlineData(FaultKind.FittingOpen, DriveKind.ConstantVoltage, 0.85)]
    [InlineData(FaultKind.FittingMissing, DriveKind.ConstantCurrent, 0.97)]
    [InlineData(FaultKind.FittingMissing, DriveKind.ConstantVoltage, 0.85)]
    [InlineData(FaultKind.OneFittingTooMany, DriveKind.ConstantCurrent, 0.97)]
    [InlineData(FaultKind.OneFittingTooMany, DriveKind.ConstantVoltage, 0.8)]
    [InlineData(FaultKind.FittingForOtherDrive, DriveKind.ConstantCurrent, 0.85)]
    [InlineData(FaultKind.FittingForOtherDrive, DriveKind.ConstantVoltage, 0.9)]
    [InlineData(FaultKind.OpenLoop, DriveKind.ConstantCurrent, 0.97)]
    [InlineData(FaultKind.OpenLoop, DriveKind.ConstantVoltage, 0.97)]
    [InlineData(FaultKind.ShortBetweenCores, DriveKind.ConstantCurrent, 0.9)]
    [InlineData(FaultKind.ShortBetweenCores, DriveKind.ConstantVoltage, 0.9)]
    [InlineData(FaultKind.HighResistanceJoint, DriveKind.ConstantCurrent, 0.97)]
    [InlineData(FaultKind.HighResistanceJoint, DriveKind.ConstantVoltage, 0.8)]
    [InlineData(FaultKind.WaterInJoint, DriveKind.ConstantCurrent, 0.9)]
    [InlineData(FaultKind.WaterInJoint, DriveKind.ConstantVoltage, 0.9)]
    [InlineData(FaultKind.WrongConductorArea, DriveKind.ConstantCurrent, 0.9)]
    [InlineData(FaultKind.CableLonger, DriveKind.ConstantCurrent, 0.9)]
    [InlineData(FaultKind.CableShorter, DriveKind.ConstantCurrent, 0.9)]
    [InlineData(FaultKind.WrongDriverOutput, DriveKind.ConstantCurrent, 0.97)]
    [InlineData(FaultKind.WrongDriverOutput, DriveKind.ConstantVoltage, 0.97)]
    [InlineData(FaultKind.DriverAtLimit, DriveKind.ConstantCurrent, 0.97)]
    [InlineData(FaultKind.DriverAtLimit, DriveKind.ConstantVoltage, 0.9)]
    [InlineData(FaultKind.DriverNoOutput, DriveKind.ConstantCurrent, 0.97)]
    [InlineData(FaultKind.DriverNoOutput, DriveKind.ConstantVoltage, 0.97)]
    [InlineData(FaultKind.SupplyReversed, DriveKind.ConstantCurrent, 0.97)]
    [InlineData(FaultKind.SupplyReversed, DriveKind.ConstantVoltage, 0.97)]
    [InlineData(FaultKind.MeterOnWrongRange, DriveKind.ConstantCurrent, 0.97)]
    [InlineData(FaultKind.MeterOnWrongRange, DriveKind.ConstantVoltage, 0.97)]
    [InlineData(FaultKind.MeterLeadsReversed, DriveKind.ConstantCurrent, 0.97)]
    [InlineData(FaultKind.MeterLeadsReversed, DriveKind.ConstantVoltage, 0.97)]
    public void It_is_in_the_leading_group(FaultKind kind, DriveKind drive, double share)
    {
        var draw = new Drawn(((int)kind * 2) + (int)drive);
        int found = 0, read = 0;
        for (var i = 0; i < Circuits; i++)
        {
            var model = Circuit(drive);
            var (changes, place) = Put(kind, model, draw);
            if (draw.Read(model, changes, Places(drive)) is not { } readings) continue;
            read++;
            var result = Electrics.Diagnosis.Explain(model, readings);
            if (result.Explanations.Any(e => e.Group == 1 && e.Kind == kind && IsAt(e, place))) found++;
            Assert.Equal(
                result.Groups[0].Probability,
                result.Explanations.Where(e => e.Group == 1).Sum(e => e.Probability), 6);
        }

        Assert.True(read >= Circuits * 0.9, $"{read} of {Circuits} have an operating point");
        Assert.True(found >= share * read, $"{found} of {read}");
    }

    // A chain of six fittings: series 350 mA, or 24 V.
    private static CircuitModel Circuit(DriveKind drive) => new(
        drive,
        drive == DriveKind.ConstantCurrent
            ? new DriverModel { RatedMilliamps = 350, LeastVolts = 3, MostVolts = 60, OpenCircuitVolts = 66 }
            : new DriverModel { RatedVolts = 24, MostAmps = 2.5, OutputTolerancePercent = 2 },
        [.. Names.Select((name, i) => new FittingModel(name, i % 2 == 0 ? 2 : 3.2) { TolerancePercent = 4 })],
        [.. Names.Select((name, i) => Some.Run(i == 0 ? "driver" : Names[i - 1], name, 15, 1.5) with
        {
            LengthTolerancePercent = 3,
        })]);

    private static IEnumerable<(string Place, MeasuredQuantity Quantity)> Places(DriveKind drive)
    {
        foreach (var name in Names) yield return (name, MeasuredQuantity.VoltsDc);
        foreach (var name in Names) yield return (name, MeasuredQuantity.FittingLit);
        yield return ("driver", MeasuredQuantity.VoltsDc);
        yield return ("driver", MeasuredQuantity.Milliamps);
        yield return ("driver", MeasuredQuantity.MegohmsInsulation);
        if (drive == DriveKind.ConstantCurrent) yield return ("driver", MeasuredQuantity.LoopOhms);
    }

    private static (ImmutableArray<CircuitChange> Changes, string Place) Put(FaultKind kind, CircuitModel model, Drawn draw)
    {
        var series = model.Drive == DriveKind.ConstantCurrent;
        var at = draw.Next(Names.Length);
        var run = model.Runs[at].Id;
        ImmutableArray<CircuitChange> changes = kind switch
        {
            FaultKind.AsDesigned => [],
            FaultKind.FittingOfOtherWattage => [new FittingHasWatts(at, series ? 4.2 : 1)],
            FaultKind.FittingOfUnlistedWattage => [new FittingHasWatts(at, series ? 5.5 : 12)],
            FaultKind.TwoFittingsOfOtherWattage => [new FittingHasWatts(0, 4.2), new FittingHasWatts(3, 1)],
            FaultKind.FittingReversed => series ? [new FittingBypassed(at, 0.75)] : [new FittingOpen(at)],
            FaultKind.FittingShorted => [new FittingBypassed(at, 0)],
            FaultKind.FittingOpen => [new FittingOpen(at)],
            FaultKind.FittingMissing => series ? [new FittingBypassed(at, 0)] : [new FittingOpen(at)],
            FaultKind.OneFittingTooMany => [new FittingAdded(Names[at], 4.2)],
            FaultKind.FittingForOtherDrive => [new FittingForOtherDrive(at, series ? 24 : model.Fittings[at].RatedWatts / 0.35)],
            FaultKind.OpenLoop => [new RunOpen(at)],
            FaultKind.ShortBetweenCores => [new CoresBridged(Names[at], 0)],
            FaultKind.HighResistanceJoint => [new RunJointOhms(at, series ? draw.Between(5, 40) : draw.Between(2, 6))],
            FaultKind.WaterInJoint => [new CoresBridged(Names[at], draw.Between(100, 20_000))],
            FaultKind.WrongConductorArea => [new RunHasArea(-1, 1)],
            FaultKind.CableLonger => [new RunLengthFactor(-1, draw.Between(1.8, 4))],
            FaultKind.CableShorter => [new RunLengthFactor(-1, draw.Between(0.25, 0.6))],
            FaultKind.WrongDriverOutput => [new DriverGives(series ? 500 : 48)],
            FaultKind.DriverAtLimit => [new DriverGives(series ? draw.Between(60, 280) : draw.Between(15, 21))],
            FaultKind.DriverNoOutput => [new DriverDead()],
            FaultKind.SupplyReversed => [new SupplyReversed()],
            FaultKind.MeterOnWrongRange => [new MeterOnWrongRange(MeasuredQuantity.VoltsDc, draw.Next(2) == 0 ? 0.1 : 10)],
            _ => [new MeterLeadsReversed()],
        };
        return (changes, kind switch
        {
            FaultKind.OpenLoop or FaultKind.HighResistanceJoint => run,
            FaultKind.TwoFittingsOfOtherWattage => Names[3],
            // On constant voltage a neighbour's other wattage reads almost the same.
            FaultKind.FittingOfOtherWattage or FaultKind.FittingOfUnlistedWattage when !series => "",
            FaultKind.OneFittingTooMany => "",
            _ when changes is [FittingHasWatts or FittingBypassed or FittingOpen or FittingForOtherDrive or CoresBridged] =>
                Names[at],
            _ => "",
        });
    }

    private static bool IsAt(FaultExplanation e, string place) =>
        place.Length == 0 || e.FittingIds.Contains(place) || e.RunIds.Contains(place) || e.NodeIds.Contains(place);
}

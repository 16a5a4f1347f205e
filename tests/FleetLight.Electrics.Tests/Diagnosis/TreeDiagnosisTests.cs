namespace FleetLight.Electrics.Tests.Diagnoses;

/// <summary>
/// Single faults of constant-voltage circuits: each is put into the circuit, read exactly, and must be found.
/// </summary>
public class TreeDiagnosisTests
{
    private static readonly CircuitModel Design = Some.SixNodeTree() with
    {
        Driver = new DriverModel { RatedVolts = 12, MostAmps = 4, OutputTolerancePercent = 2 },
    };

    [Fact]
    public void A_healthy_circuit_is_as_designed() =>
        Assert.Equal(FaultKind.AsDesigned, Explain(ReadAll(Design)).Explanations[0].Kind);

    [Fact]
    public void A_fitting_that_takes_no_power_is_found()
    {
        var built = Design with { Fittings = [.. Design.Fittings.Where(f => f.Id != "n3")] };
        var found = Explain(ReadAll(built)).Explanations;
        Assert.Equal(FaultKind.FittingMissing, found[0].Kind);
        Assert.Equal(["n3"], found[0].FittingIds);
        Assert.Equal(1, found.First(e => e.Kind == FaultKind.FittingReversed && e.FittingIds.Contains("n3")).Group);
    }

    [Fact]
    public void A_bad_joint_is_found_in_its_run()
    {
        var built = Design with
        {
            Runs = [.. Design.Runs.Select(r => r.Id == "n4-n5" ? r with { LengthMetres = 120 } : r)],
        };
        var found = Explain(ReadAll(built)).Explanations[0];
        Assert.Equal(FaultKind.HighResistanceJoint, found.Kind);
        Assert.Equal(["n4-n5"], found.RunIds);
    }

    [Fact]
    public void A_24_V_driver_in_a_12_V_circuit_is_found()
    {
        var built = Design with { Driver = Design.Driver with { RatedVolts = 24 } };
        var found = Explain(ReadAll(built)).Explanations[0];
        Assert.Equal(FaultKind.WrongDriverOutput, found.Kind);
        Assert.Equal(24, found.DriverVoltsDc);
    }

    [Fact]
    public void A_broken_run_leaves_all_beyond_it_dead()
    {
        MeasuredReading[] readings =
        [
            new("driver", MeasuredQuantity.VoltsDc, 12), new("n1", MeasuredQuantity.VoltsDc, 11.7),
            new("n4", MeasuredQuantity.VoltsDc, 0), new("n5", MeasuredQuantity.VoltsDc, 0),
        ];
        var found = Explain(readings).Explanations[0];
        Assert.Equal(FaultKind.OpenLoop, found.Kind);
        Assert.Equal(["n1-n4"], found.RunIds);
    }

    [Fact]
    public void No_volts_but_all_the_current_is_a_short_between_the_cores()
    {
        var found = Explain([
            new("driver", MeasuredQuantity.VoltsDc, 0.2), new("driver", MeasuredQuantity.Milliamps, 3900)]);
        Assert.Equal(FaultKind.ShortBetweenCores, found.Explanations[0].Kind);
    }

    private static DiagnosisResult Explain(MeasuredReading[] readings) =>
        Electrics.Diagnosis.Explain(Design, readings);

    private static MeasuredReading[] ReadAll(CircuitModel built)
    {
        var sound = Some.Readings(built);
        return
        [
            new("driver", MeasuredQuantity.VoltsDc, sound.DriverVoltsDc.Best),
            new("driver", MeasuredQuantity.Milliamps, sound.DriverMilliamps.Best),
            .. sound.Nodes.Select(n => new MeasuredReading(n.NodeId, MeasuredQuantity.VoltsDc, n.VoltsDc.Best)),
        ];
    }
}

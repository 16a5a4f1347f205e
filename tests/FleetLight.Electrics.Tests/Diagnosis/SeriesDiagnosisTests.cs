namespace FleetLight.Electrics.Tests.Diagnoses;

/// <summary>Single faults of series circuits. The wattage case is common practice of the trade, no source.</summary>
public class SeriesDiagnosisTests
{
    [Theory]
    [InlineData(11.85)]
    [InlineData(11.86)]
    [InlineData(11.87)]
    public void Reading_11_86_V_on_a_3_2_W_design_is_led_by_one_2_6_W_fitting(double volts)
    {
        var lead = Explain(Some.Series(1.6, 1.6), Some.DriverVolts(volts)).Explanations[0];
        Assert.Equal(FaultKind.FittingOfOtherWattage, lead.Kind);
        Assert.Equal(2.6, lead.Watts);
        Assert.InRange(lead.BestFitWatts!.Value, 2.54, 2.6);
        Assert.Equal(["f1", "f2"], lead.FittingIds);
        Assert.Equal(12, lead.Predicted[0].Value!.Value, 6);
        Assert.Contains("2.60 W", lead.What, StringComparison.Ordinal);
    }

    [Fact]
    public void A_reading_across_one_fitting_settles_which_fitting_it_is()
    {
        var lead = Explain(
            Some.Series(1.6, 1.6), Some.DriverVolts(11.86), new("f2", MeasuredQuantity.VoltsDc, 7.3)).Explanations[0];
        Assert.Equal(FaultKind.FittingOfOtherWattage, lead.Kind);
        Assert.Equal(["f2"], lead.FittingIds);
        Assert.True(lead.Probability > 0.9);
    }

    [Fact]
    public void A_reading_as_expected_is_explained_by_nothing_being_wrong()
    {
        var lead = Explain(Some.Series(1.6, 1.6), Some.DriverVolts(9.2)).Explanations[0];
        Assert.Equal(FaultKind.AsDesigned, lead.Kind);
        Assert.True(lead.Probability > 0.9);
    }

    [Fact]
    public void A_missing_and_a_shorted_fitting_cannot_be_told_apart_and_say_so()
    {
        var found = Explain(Some.Series(1.6, 1.6, 1.6, 1.6), Some.DriverVolts(13.71)).Explanations;
        var missing = found.Single(e => e.Kind == FaultKind.FittingMissing);
        var shorted = found.Single(e => e.Kind == FaultKind.FittingShorted);
        Assert.Equal(missing.Group, shorted.Group);
        Assert.Equal(1, missing.Group);
    }

    [Fact]
    public void Open_circuit_volts_without_current_are_a_broken_loop_or_a_blocking_fitting()
    {
        var found = Explain(WithWindow(1.6, 1.6, 1.6), Some.DriverVolts(47.8), Milliamps(0)).Explanations;
        Assert.Equal(FaultKind.OpenLoop, found[0].Kind);
        Assert.Equal(found[0].Group, found.Single(e => e.Kind == FaultKind.FittingReversed).Group);
    }

    [Fact]
    public void Half_as_much_current_again_is_a_wrong_driver()
    {
        var found = Explain(Some.Series(1.6, 1.6), Some.DriverVolts(9.5), Milliamps(499)).Explanations[0];
        Assert.Equal(FaultKind.WrongDriverOutput, found.Kind);
        Assert.Equal(500, found.DriverMilliamps);
    }

    [Fact]
    public void More_loop_ohms_than_the_cable_has_is_a_joint_or_a_longer_cable()
    {
        var model = Some.Series(1.6, 1.6) with { Runs = [Some.Run("driver", "f1", 40, 1.5)] };
        var lead = Explain(model, new MeasuredReading("driver", MeasuredQuantity.LoopOhms, 13)).Explanations[0];
        Assert.Equal(FaultKind.HighResistanceJoint, lead.Kind);
        Assert.Equal(12, lead.JointOhms!.Value, 0.3);
    }

    // 27.4 V as designed; at 40 V the driver gives less: something in the loop takes 13 V more, and what it is the driver
    // does not show.
    [Fact]
    public void A_driver_at_its_greatest_volts_and_less_than_its_current_is_overloaded_or_meets_a_resistance()
    {
        var found = Explain(WithWindow(3.2, 3.2, 3.2), Some.DriverVolts(40.1), Milliamps(240)).Explanations;
        Assert.Equal(FaultKind.HighResistanceJoint, found[0].Kind);
        Assert.InRange(found[0].JointOhms!.Value, 45, 65);
        var limit = found.First(e => e.Kind == FaultKind.DriverAtLimit);
        Assert.Contains("loaded by", limit.What, StringComparison.Ordinal);
        Assert.InRange(limit.Misfit!.Value, 0, 1.5);
    }

    [Fact]
    public void Nothing_at_all_is_a_driver_without_output()
    {
        var lead = Explain(WithWindow(1.6, 1.6), Some.DriverVolts(0), Milliamps(0)).Explanations[0];
        Assert.Equal(FaultKind.DriverNoOutput, lead.Kind);
    }

    [Fact]
    public void Readings_that_nothing_explains_leave_none_of_these()
    {
        var lead = Explain(Some.Series(1.6, 1.6), Some.DriverVolts(9.14), Milliamps(2000)).Explanations[0];
        Assert.Equal(FaultKind.NoneOfThese, lead.Kind);
    }

    [Fact]
    public void The_same_reading_ten_times_counts_as_evidence_of_one_circuit_not_of_ten()
    {
        var once = Explain(Some.Series(1.6, 1.6), Some.DriverVolts(10)).Explanations;
        var often = Explain(Some.Series(1.6, 1.6), [.. Enumerable.Repeat(Some.DriverVolts(10), 10)]).Explanations;
        double Sound(IEnumerable<FaultExplanation> all) =>
            all.Where(e => e.Kind == FaultKind.AsDesigned).Sum(e => e.Probability);
        Assert.InRange(Sound(once), 0.05, 0.95);
        Assert.InRange(Sound(often), 0.02, 0.98);
    }

    internal static DiagnosisResult Explain(CircuitModel model, params MeasuredReading[] readings) =>
        Electrics.Diagnosis.Explain(model, readings);

    private static MeasuredReading Milliamps(double value) => new("driver", MeasuredQuantity.Milliamps, value);

    private static CircuitModel WithWindow(params double[] watts) => Some.Series(watts) with
    {
        Driver = new DriverModel { RatedMilliamps = 350, LeastVolts = 3, MostVolts = 40, OpenCircuitVolts = 48 },
    };
}

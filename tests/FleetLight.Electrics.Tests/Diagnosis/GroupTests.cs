namespace FleetLight.Electrics.Tests.Diagnoses;

/// <summary>What the readings cannot tell apart is one group that says so; a further reading parts it.</summary>
public class GroupTests
{
    private static readonly CircuitModel Loop = Some.Series(1.6, 1.6, 1.6) with
    {
        Driver = new DriverModel { RatedMilliamps = 350, LeastVolts = 3, MostVolts = 40, OpenCircuitVolts = 48 },
        Runs = [Some.Run("driver", "f1", 30, 1.5), Some.Run("f1", "f2", 30, 1.5), Some.Run("f2", "f3", 30, 1.5)],
    };

    [Fact]
    public void Groups_part_the_explanations_and_sum_them_up()
    {
        var result = Explain(Loop, Some.DriverVolts(19), Milliamps(351));
        Assert.Equal(Enumerable.Range(1, result.Groups.Length), result.Groups.Select(g => g.Number));
        Assert.Equal(
            Enumerable.Range(0, result.Explanations.Length), result.Groups.SelectMany(g => g.Members).Order());
        foreach (var group in result.Groups)
        {
            Assert.Equal(group.Probability, group.Members.Sum(i => result.Explanations[i].Probability), 9);
            Assert.All(group.Members, i => Assert.Equal(group.Number, result.Explanations[i].Group));
            Assert.NotEmpty(group.Says);
        }

        Assert.Equal(result.Groups.Select(g => g.Probability).OrderDescending(), result.Groups.Select(g => g.Probability));
    }

    [Fact]
    public void A_joint_a_longer_cable_and_a_thinner_one_are_one_group()
    {
        // As recorded 2.32 Ω; with 1.0 mm² for 1.5 mm² half as much again.
        var result = Explain(Loop, Ohms(3.45));
        var first = result.Groups[0];
        Assert.StartsWith("These readings cannot tell these apart: ", first.Says, StringComparison.Ordinal);
        var kinds = first.Members.Select(i => result.Explanations[i].Kind).ToList();
        Assert.Contains(FaultKind.HighResistanceJoint, kinds);
        Assert.Contains(FaultKind.CableLonger, kinds);
        Assert.Contains(FaultKind.WrongConductorArea, kinds);
    }

    [Fact]
    public void The_same_fault_at_several_places_is_one_explanation_until_a_reading_parts_them()
    {
        var volts = Some.DriverVolts(16.9);
        var before = Explain(Loop, volts).Explanations.First(e => e.Watts == 2.6);
        Assert.Equal(["f1", "f2", "f3"], before.FittingIds);
        Assert.StartsWith("One of the fittings f1, f2, f3 is a 2.60 W one", before.What, StringComparison.Ordinal);
        var after = Explain(Loop, volts, new("f2", MeasuredQuantity.VoltsDc, 7.4)).Explanations.First(e => e.Watts == 2.6);
        Assert.Equal(["f2"], after.FittingIds);
    }

    [Fact]
    public void A_broken_loop_is_one_explanation_wherever_it_is_broken()
    {
        var result = Explain(Loop, Some.DriverVolts(47.5), Milliamps(0));
        var open = result.Explanations[0];
        Assert.Equal(FaultKind.OpenLoop, open.Kind);
        Assert.Equal(3, open.RunIds.Length);
        Assert.Contains(result.Groups[0].Members, i => result.Explanations[i].Kind == FaultKind.FittingOpen);
        // All of the driver's open-circuit volts across one fitting: there it is.
        var found = Explain(
            Loop, Some.DriverVolts(47.5), Milliamps(0), new("f2", MeasuredQuantity.VoltsDc, 46.9)).Explanations[0];
        Assert.Equal(["f2"], found.FittingIds);
    }

    [Fact]
    public void What_is_lit_parts_a_slip_with_the_meter_from_a_dead_driver()
    {
        var none = Explain(Loop, Some.DriverVolts(0.1));
        Assert.Equal(
            Group(none, FaultKind.DriverNoOutput), Group(none, FaultKind.MeterOnWrongRange));
        MeasuredReading[] lit = [Some.DriverVolts(0.1), Lit("f1", 1), Lit("f2", 1), Lit("f3", 1)];
        Assert.Equal(FaultKind.MeterOnWrongRange, Explain(Loop, lit).Explanations[0].Kind);
        MeasuredReading[] dark = [Some.DriverVolts(0.1), Lit("f1", 0), Lit("f2", 0), Lit("f3", 0)];
        var dead = Explain(Loop, dark);
        Assert.Equal(FaultKind.DriverNoOutput, dead.Explanations[0].Kind);
        Assert.All(dead.Explanations[0].Predicted.Skip(1), p => Assert.Equal(0, p.Value));
    }

    [Fact]
    public void Insulation_resistance_alone_tells_of_water()
    {
        var wet = Explain(Loop, Some.DriverVolts(14.5), Megohms(0.4)).Explanations[0];
        Assert.Equal(FaultKind.WaterInJoint, wet.Kind);
        Assert.InRange(wet.LeakOhms!.Value, 50_000, 1_000_000);
        Assert.True(Explain(Loop, Some.DriverVolts(14.5), Megohms(40)).AsDesignedProbability > 0.9);
        Assert.True(Explain(Loop, Some.DriverVolts(14.5), Megohms(999)).AsDesignedProbability > 0.9);
    }

    [Fact]
    public void One_reading_that_goes_with_nothing_is_named()
    {
        var result = Explain(
            Loop, Some.DriverVolts(14.6), Milliamps(350), new("f1", MeasuredQuantity.VoltsDc, 4.5),
            new("f2", MeasuredQuantity.VoltsDc, -31), new("f3", MeasuredQuantity.VoltsDc, 4.6));
        Assert.Equal(FaultKind.NoneOfThese, result.Explanations[0].Kind);
        Assert.Contains("does not go with the others: the volts at f2", result.Explanations[0].What, StringComparison.Ordinal);
    }

    [Fact]
    public void What_else_would_show_comes_with_figures_for_places_not_read()
    {
        var found = Explain(Loop, Some.DriverVolts(10.2), Milliamps(350)).Explanations
            .First(e => e.Kind == FaultKind.ShortBetweenCores || e.Kind == FaultKind.FittingMissing);
        var figure = Assert.Single(found.Elsewhere, one => one.Place == "f3" || one.Place == "f2");
        Assert.Equal(0, figure.Value, 1);
        Assert.Equal(4.57, figure.AsDesigned, 2);
        Assert.Contains("designed are 4.57 V", found.AlsoShows, StringComparison.Ordinal);
    }

    [Fact]
    public void The_order_of_readings_makes_no_difference()
    {
        MeasuredReading[] readings =
        [
            Some.DriverVolts(17), Milliamps(348), Ohms(2.6), new("f1", MeasuredQuantity.VoltsDc, 4.7), Lit("f2", 1),
            Megohms(20), Some.DriverVolts(17.1), new("f3", MeasuredQuantity.VoltsDc, 7.1), Lit("f3", 1),
        ];
        var expected = Explain(Loop, readings);
        var random = new Random(3);
        for (var i = 0; i < 20; i++)
        {
            random.Shuffle(readings);
            var found = Explain(Loop, readings);
            Assert.Equal(expected.Explanations.Select(e => e.What), found.Explanations.Select(e => e.What));
            foreach (var (one, other) in expected.Explanations.Zip(found.Explanations))
                Assert.Equal(one.Probability, other.Probability, 1e-9);
        }
    }

    [Fact]
    public void Repeats_do_not_pretend_to_be_fresh_evidence_and_those_that_differ_say_less()
    {
        double Sound(params double[] volts) =>
            Explain(Loop, [.. volts.Select(Some.DriverVolts)]).AsDesignedProbability;
        var once = Sound(15.6);
        Assert.InRange(once, 0.05, 0.95);
        Assert.Equal(once, Sound([.. Enumerable.Repeat(15.6, 30)]), 0.02);
        // One of two is wrong, and nobody can say which.
        Assert.InRange(Sound(14.6, 24.6), 0.5, 1);
    }

    private static DiagnosisResult Explain(CircuitModel model, params MeasuredReading[] readings) =>
        Electrics.Diagnosis.Explain(model, readings);

    private static int Group(DiagnosisResult result, FaultKind kind) =>
        result.Explanations.First(e => e.Kind == kind).Group;

    private static MeasuredReading Milliamps(double value) => new("driver", MeasuredQuantity.Milliamps, value);

    private static MeasuredReading Ohms(double value) => new("driver", MeasuredQuantity.LoopOhms, value);

    private static MeasuredReading Megohms(double value) => new("driver", MeasuredQuantity.MegohmsInsulation, value);

    private static MeasuredReading Lit(string fitting, double value) => new(fitting, MeasuredQuantity.FittingLit, value);
}

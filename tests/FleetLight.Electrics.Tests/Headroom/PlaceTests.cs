using System.Text.Json;
using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.HeadroomAndChange;

/// <summary>Places: nodes, new runs and spare cores.</summary>
public class PlaceTests
{
    /// <summary>
    /// A spare pair over 15 m and 10 m of 2.5 mm² class 5 (IEC 60228: 7.98 Ω/km) has 0.399 Ω, whatever else hangs on
    /// the other cores: 8 W at 24 V then gets 12 + √(144 − 0.399·8) = 23.8662 V.
    /// </summary>
    [Fact]
    public void Spare_cores_are_a_pair_of_their_own()
    {
        var answer = Asked.Answer(OnSpare(2, 2), assumptions: Some.Bare);
        Assert.Equal(MayBeAdded.Yes, answer.May);
        Assert.Equal(12 + Math.Sqrt(144 - (0.399 * 8)), answer.Fittings.Single(f => f.IsNew).VoltsDc.Best, 1e-9);
        var own = Asked.Answer(OnSpare(2, 2) with { Where = new AddedWhere("b2") }, assumptions: Some.Bare);
        Assert.True(own.Fittings.Single(f => f.IsNew).VoltsDc.Best < answer.Fittings.Single(f => f.IsNew).VoltsDc.Best);
    }

    /// <summary>In a series loop the spare pair adds its 0.399 Ω to the loop: 0.35 A drops 0.13965 V.</summary>
    [Fact]
    public void Spare_cores_lengthen_a_series_loop()
    {
        var series = Some.Series(1.05) with
        {
            Driver = new DriverModel { RatedMilliamps = 350, MostVolts = 24, OutputTolerancePercent = 0 },
            Runs = [Some.Run("driver", "b1", 15), Some.Run("b1", "f1", 10)],
        };
        var question = new HeadroomQuestion(series, Asked.Fittings(1, 1.05), new AddedWhere("driver")
        {
            SpareRunIds = ["driver-b1", "b1-f1"],
        })
        {
            SpareCores = [new("driver-b1", 3), new("b1-f1", 2)],
        };
        var answer = Asked.Answer(question, assumptions: Some.Bare);
        Assert.Equal(6 + (2 * 0.13965), answer.Readings!.DriverVoltsDc.Best, 1e-9);
        Assert.Equal(2 * 0.399, answer.Readings.CableLoopOhms!.Best, 1e-9);
    }

    [Fact]
    public void Too_few_spare_cores_refuse_and_unknown_ones_are_to_be_minded()
    {
        var few = Asked.Answer(OnSpare(2, 1));
        Assert.Equal(MayBeAdded.No, few.May);
        var reason = Assert.Single(few.Reasons);
        Assert.Equal((HeadroomLimit.SpareCores, "b1-b2", 1.0), (reason.Limit, reason.Place, reason.Value));
        Assert.All(few.LongestRuns, l => Assert.Equal((null, HeadroomLimit.SpareCores), (l.LengthMetres, l.EndedBy)));
        // The first stretch has its pair, so the fittings can hang where that ends.
        Assert.Contains(few.Proposals, p => p.Steps is [{ Kind: StepKind.NearerNode, Node: "b1" }]);

        var unknown = Asked.Answer(OnSpare(2, 2) with { SpareCores = [] });
        Assert.Equal(MayBeAdded.YesBut, unknown.May);
        Assert.Equal(2, unknown.Reasons.Count(r => r.Limit == HeadroomLimit.SpareCores));
    }

    [Fact]
    public void A_new_run_may_go_on_from_spare_cores_and_names_do_not_collide()
    {
        var question = OnSpare(2, 2);
        question = question with
        {
            Circuit = question.Circuit with
            {
                Runs = question.Circuit.Runs.Add(Some.Run("b2", "new run", 1) with { Id = "b1-b2, spare cores" }),
            },
            Fittings = Asked.Fittings(3, 1),
            Where = question.Where with { Run = Asked.Run(12, 1.5) with { SpacingMetres = 4 } },
        };
        var changed = Asked.Answer(question).Changed;
        Assert.Equal([12, 4, 4], changed.Runs.TakeLast(3).Select(r => r.LengthMetres));
        Assert.Equal(["new1", "new2", "new3"], changed.Runs.TakeLast(3).Select(r => r.To));
        Assert.Distinct(changed.Runs.Select(r => r.Id));
    }

    /// <summary>
    /// A circuit whose driver is overloaded already is refused, and the reason says that it was so before.
    /// </summary>
    [Fact]
    public void What_was_wrong_before_is_said_to_be()
    {
        var circuit = Some.Series(1.05, 1.05, 1.05, 1.05) with
        {
            Driver = new DriverModel { RatedMilliamps = 350, MostVolts = 9, MostWatts = 4.9 },
        };
        var answer = Asked.Answer(new(circuit, Asked.Fittings(1, 0.7), new AddedWhere("f1")));
        Assert.Equal(MayBeAdded.No, answer.May);
        Assert.True(answer.Reasons.Single(r => r.Limit == HeadroomLimit.DriverMostVolts).AlreadySo);
        Assert.False(answer.Reasons.Single(r => r.Limit == HeadroomLimit.DriverMostWatts).AlreadySo);
        Assert.True(answer.Before!.VoltsDc < 0);
    }

    /// <summary>
    /// IEC 60364-4-41: the class follows the open-circuit voltage, 70 V here, not the 30 V in service.
    /// </summary>
    [Fact]
    public void The_touch_class_is_by_the_open_circuit_voltage()
    {
        var circuit = Some.Series(1.05) with
        {
            Driver = new DriverModel { RatedMilliamps = 350, MostVolts = 60, OpenCircuitVolts = 70 },
        };
        var answer = Asked.Answer(new(circuit, Asked.Fittings(1, 1.05), new AddedWhere("f1")));
        Assert.Equal((TouchClass.NeedsBasicProtection, MayBeAdded.YesBut), (answer.Touch.Class, answer.May));
        Assert.Contains("but", answer.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_driver_without_recorded_limits_is_a_yes_but()
    {
        var answer = Asked.Answer(new(Some.SixNodeTree(), Asked.Fittings(1, 0.1), new AddedWhere("driver")),
            new HeadroomOptions { MostDropPercent = 50 });
        Assert.Equal(MayBeAdded.YesBut, answer.May);
        Assert.Equal(HeadroomLimit.DriverLimitUnknown, Assert.Single(answer.Reasons).Limit);
        Assert.Null(answer.After!.Amps);
    }

    [Fact]
    public void A_driver_that_would_not_regulate_yet_is_refused()
    {
        var circuit = Some.Series(1.05) with
        {
            Driver = new DriverModel { RatedMilliamps = 350, MostVolts = 40, LeastVolts = 18 },
        };
        var answer = Asked.Answer(new(circuit, Asked.Fittings(2, 1.05), new AddedWhere("f1")));
        Assert.Equal(HeadroomLimit.DriverLeastVolts, answer.Reasons[0].Limit);
        Assert.Equal(StepKind.LargerDriver, answer.Proposals[0].Steps[0].Kind);
        Assert.True(answer.Proposals[0].Steps[0].Driver!.LeastVolts < 9.1);
        Assert.Equal(MayBeAdded.Yes, Asked.Answer(
            new(circuit, Asked.Fittings(7, 1.05), new AddedWhere("f1"))).May);
    }

    /// <summary>IEC 60364-5-52 table B.52.2: 1.5 mm² in a duct in the ground carries 22 A.</summary>
    [Fact]
    public void The_current_of_a_thin_conductor_is_held_against_its_rating()
    {
        var circuit = new CircuitModel(
            DriveKind.ConstantVoltage, new DriverModel { RatedVolts = 12, MostAmps = 60 }, [], []);
        var answer = Asked.Answer(new(circuit, Asked.Fittings(1, 280), new AddedWhere("driver")
        {
            Run = Asked.Run(0.5, 1.5),
        }));
        var reason = answer.Reasons.Single(r => r.Limit == HeadroomLimit.ConductorCurrent);
        Assert.Equal((22.0, "A", ConductorCurrent.Source), (reason.LimitValue, reason.Unit, reason.Source));
    }

    [Fact]
    public void An_answer_can_be_stored() =>
        Assert.NotEmpty(JsonSerializer.Serialize(Asked.Answer(OnSpare(2, 1))));

    private static HeadroomQuestion OnSpare(int first, int second) => new(
        new CircuitModel(
            DriveKind.ConstantVoltage,
            new DriverModel { RatedVolts = 24, MostAmps = 5, OutputTolerancePercent = 0 },
            [new("b1", 6)], [Some.Run("driver", "b1", 15), Some.Run("b1", "b2", 10)]),
        Asked.Fittings(1, 8), new AddedWhere("driver") { SpareRunIds = ["driver-b1", "b1-b2"] })
    {
        SpareCores = [new("driver-b1", first), new("b1-b2", second)],
    };
}

using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Circuits;

/// <summary>What is expected follows what was built.</summary>
public sealed class AsBuiltTests
{
    [Fact]
    public void A_pulled_cable_counts_in_place_of_the_designed_run()
    {
        var job = Job.Of(CircuitFacts.Designed());
        var before = job.Circuit.Expected[0].Expected.Value;

        job.Tells(Facts.CablePulled(length: 200, area: 0.5, conductorClass: ConductorClass.Class2));

        var run = job.Works.BasisOf(Facts.Circuit).Model!.Runs[0];
        Assert.Equal(
            (200, 0.5, ConductorClass.Class2),
            (run.LengthMetres, run.AreaSquareMillimetres, run.ConductorClass));
        Assert.True(job.Circuit.Expected[0].Expected.Value > before + 3);
    }

    [Fact]
    public void The_plate_of_a_fixed_fitting_counts_in_place_of_the_design()
    {
        var job = Job.Of(CircuitFacts.Designed(runs: []), CircuitFacts.Fixed("F1", watts: 2.6));

        Assert.Equal(12, job.Circuit.Expected[0].Expected.Value, 0.2);
        var fitting = job.Circuit.Fittings[0];
        Assert.Equal((2.6, 1.6, true), (fitting.RatedWatts, fitting.DesignedWatts, fitting.Fixed));
        Assert.Null(job.Circuit.Fittings[1].DesignedWatts);
    }

    [Fact]
    public void The_driver_as_fitted_counts_whole_but_for_the_output_that_it_does_not_name()
    {
        var job = Job.Of(
            CircuitFacts.Designed(driver: CircuitFacts.Driver(most: 20, watts: 10)),
            CircuitFacts.Connected(CircuitFacts.Driver(milliamps: null, most: 40)));

        var driver = job.Works.BasisOf(Facts.Circuit).Model!.Driver;

        Assert.Equal((350, 40, null), (driver.RatedMilliamps, driver.MostVolts, driver.MostWatts));
    }

    [Fact]
    public void Headroom_is_what_the_driver_has_left()
    {
        var headroom = Job.Of(CircuitFacts.Designed(driver: CircuitFacts.Driver(most: 24, watts: 10), runs: []))
            .Circuit.Headroom!;

        Assert.Equal(24 - 9.14, headroom.VoltsLeft!.Value, 0.1);
        Assert.Equal(32, headroom.WattsLoadPercent!.Value, 0.5);
        Assert.False(headroom.NearLimit);
    }

    [Fact]
    public void Spare_cores_are_those_of_its_cables()
    {
        var job = Job.Of(
            CircuitFacts.Designed(),
            Facts.CablePulled(cores: [Facts.Core("1"), Facts.Core("2"), Facts.Core("3", null)]),
            Facts.CablePulled("cable-9", cores: [Facts.Core("1", null), Facts.Core("2", "circuit-9")]));

        Assert.Equal([Facts.Cable, "cable-2"], job.Circuit.CableIds);
        Assert.Equal(1, job.Circuit.SpareCores);
    }

    [Fact]
    public void What_is_open_on_the_things_it_leans_on_is_named_by_rule()
    {
        var job = Job.Of(CircuitFacts.Designed(), Facts.DuctLaid(), Facts.CablePulled(), Facts.JointMade());

        Assert.Equal(
            ["box-not-closed", "cable-unlabelled", "duct-left-open", "duct-unlabelled", "no-string-left", "polarity-sleeve-missing"],
            job.Works.BasisOf(Facts.Circuit).OpenPoints);
    }

    [Fact]
    public void It_says_what_it_waits_for_around_it()
    {
        var circuit = Job.Of(CircuitFacts.Designed(), Facts.CablePulled()).Circuit;

        Assert.Contains(circuit.WaitingFor, text => text.Contains("duct-1", StringComparison.Ordinal));
    }

    [Fact]
    public void Things_that_its_design_does_not_name_are_contradictions()
    {
        var circuit = Job.Of(
            CircuitFacts.Designed(),
            CircuitFacts.Fixed("F9"),
            CircuitFacts.Energised(["F8"]),
            Facts.JointMade(connectors: [Facts.Connector(Facts.Lead("F7"))]),
            CircuitFacts.Reading(4, place: ReadingPlaceKind.Fitting, placeId: "F6"),
            CircuitFacts.Reading(4, place: ReadingPlaceKind.Box, placeId: "B6")).Circuit;

        Assert.Equal(5, circuit.Contradictions.Count);
        Assert.All(
            ["F9", "F8", "F7", "F6", "B6"],
            id => Assert.Contains(circuit.Contradictions, text => text.Contains(id, StringComparison.Ordinal)));
    }

    [Fact]
    public void A_branched_circuit_of_constant_voltage_tells_the_volts_at_every_place()
    {
        var design = CircuitFacts.Designed(
            drive: DriveKind.ConstantVoltage,
            runs: [CircuitFacts.Run("R1", "driver", "box-1"), CircuitFacts.Run("R2", "box-1", "F1"), CircuitFacts.Run("R3", "box-1", "F2")]);

        var circuit = Job.Of(design, Facts.BoxSealed()).Circuit;

        Assert.Equal([Facts.Box], circuit.BoxIds);
        Assert.Equal(
            [(ReadingPlaceKind.Driver, null), (ReadingPlaceKind.Fitting, "F1"), (ReadingPlaceKind.Fitting, "F2"), (ReadingPlaceKind.Box, Facts.Box)],
            circuit.Expected.Where(expected => expected.Quantity == ReadingQuantity.VoltsDc)
                .Select(expected => (expected.Place, expected.PlaceId)));
    }

    [Fact]
    public void A_reading_in_a_box_counts_under_either_id_of_the_box()
    {
        var design = CircuitFacts.Designed(
            drive: DriveKind.ConstantVoltage,
            fittings: [CircuitFacts.Fitting("F1")],
            runs: [CircuitFacts.Run("R1", "driver", "box-2"), CircuitFacts.Run("R2", "box-2", "F1")]);

        var circuit = Job.Of(
            design, Facts.Joined(ThingKind.Box, "box-1", "box-2"),
            CircuitFacts.Reading(23.9, place: ReadingPlaceKind.Box, placeId: "box-2")).Circuit;

        Assert.Equal(["box-1"], circuit.BoxIds);
        Assert.Equal(CircuitVerdict.Within, circuit.Verdict);
        Assert.Empty(circuit.Contradictions);
    }
}

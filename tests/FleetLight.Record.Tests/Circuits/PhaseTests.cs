using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Circuits;

/// <summary>A circuit from its design to its handover.</summary>
public sealed class PhaseTests
{
    [Fact]
    public void It_is_followed_from_design_to_handover()
    {
        var job = Job.Of(CircuitFacts.Designed());
        Assert.Equal(CircuitPhase.Designed, job.Circuit.Phase);
        Assert.Equal(2, job.Circuit.MissingForNextPhase.Count);

        job.Tells(Facts.CablePulled());
        Assert.Equal("Cable cable-2 of run R2 is pulled.", Assert.Single(job.Circuit.MissingForNextPhase));
        job.Tells(Facts.CablePulled("cable-2"));
        Assert.Equal(CircuitPhase.Cabled, job.Circuit.Phase);

        job.Tells(CircuitFacts.Fixed("F1"));
        Assert.Equal("Fitting F2 is fixed.", Assert.Single(job.Circuit.MissingForNextPhase));
        job.Tells(CircuitFacts.Fixed("F2"));
        Assert.Equal(CircuitPhase.Fitted, job.Circuit.Phase);

        Assert.Equal(CircuitPhase.Connected, job.Tells(CircuitFacts.Connected()).Circuit.Phase);
        Assert.Equal(CircuitPhase.Energised, job.Tells(CircuitFacts.Energised()).Circuit.Phase);
        Assert.Contains("reading", Assert.Single(job.Circuit.MissingForNextPhase), StringComparison.Ordinal);

        job.Tells(CircuitFacts.Reading(9.2));
        Assert.Equal(CircuitPhase.Proven, job.Circuit.Phase);
        Assert.Equal("The circuit is handed over.", Assert.Single(job.Circuit.MissingForNextPhase));

        job.Tells(CircuitFacts.HandedOver());
        Assert.Equal(CircuitPhase.HandedOver, job.Circuit.Phase);
        Assert.Empty(job.Circuit.MissingForNextPhase);
        Assert.Equal(Enum.GetValues<CircuitPhase>(), job.Circuit.PhaseReachedAt.Keys);
        Assert.Equal(Crew.Start.AddMinutes(7), job.Circuit.PhaseReachedAt[CircuitPhase.Proven]);
    }

    [Fact]
    public void Without_a_design_it_is_only_named()
    {
        var circuit = Job.Of(CircuitFacts.Connected(), CircuitFacts.Energised()).Circuit;

        Assert.Equal(CircuitPhase.Named, circuit.Phase);
        Assert.Contains("design", Assert.Single(circuit.WaitingFor), StringComparison.Ordinal);
    }

    [Fact]
    public void A_forgotten_record_does_not_hide_that_it_is_alive_and_is_named_as_missing()
    {
        var circuit = Job.Of(
            CircuitFacts.Designed(runs: []), CircuitFacts.Fixed("F1"), CircuitFacts.Connected(), CircuitFacts.Energised(),
            CircuitFacts.Reading(9)).Circuit;

        Assert.Equal(CircuitPhase.Energised, circuit.Phase);
        Assert.Equal(CircuitVerdict.Within, circuit.Verdict);
        Assert.Equal(["Fitting F2 is fixed."], circuit.MissingForNextPhase);
    }

    [Fact]
    public void A_run_that_names_no_cable_takes_any_cable_of_the_circuit()
    {
        var design = CircuitFacts.Designed(runs:
            [CircuitFacts.Run("R1", "driver", "F1"), CircuitFacts.Run("R2", "F1", "F2", cableId: "cable-2")]);

        Assert.False(Job.Of(design, Facts.CablePulled("cable-2")).Circuit.PhaseReachedAt.ContainsKey(CircuitPhase.Cabled));
        Assert.True(Job.Of(design, Facts.CablePulled("cable-2"), Facts.CablePulled("cable-3"))
            .Circuit.PhaseReachedAt.ContainsKey(CircuitPhase.Cabled));
    }

    [Fact]
    public void A_loop_measured_with_the_driver_off_proves_nothing()
    {
        var job = Built(CircuitFacts.Designed(runs: [CircuitFacts.Run("R1", "driver", "F1", 10)]));
        var ohms = job.Circuit.Expected.Single(expected => expected.Quantity == ReadingQuantity.LoopOhms).Expected.Value;

        job.Tells(CircuitFacts.Reading(ohms, ReadingQuantity.LoopOhms));

        Assert.Equal(CircuitVerdict.Within, job.Circuit.Verdict);
        Assert.Equal(CircuitPhase.Energised, job.Circuit.Phase);
        Assert.Single(job.Circuit.MissingForNextPhase);
    }

    [Fact]
    public void With_a_mains_side_its_tests_are_due_and_must_meet_their_values()
    {
        var job = Built(CircuitFacts.Designed(runs: [], mainsSide: true)).Tells(CircuitFacts.Reading(9));
        Assert.Equal(4, job.Circuit.MissingForNextPhase.Count);

        job.Tells(
            CircuitFacts.Insulation(0.3), CircuitFacts.Continuity(), CircuitFacts.Polarity(), CircuitFacts.TripTime(22));
        Assert.Contains("insulation", Assert.Single(job.Circuit.MissingForNextPhase), StringComparison.Ordinal);

        job.Tells(CircuitFacts.Insulation(200));
        Assert.Equal(CircuitPhase.Proven, job.Circuit.Phase);
        Assert.Equal(4, job.Circuit.Tests.Count);
    }

    [Fact]
    public void A_design_with_more_fittings_takes_it_back()
    {
        var job = Built(CircuitFacts.Designed(runs: []));
        Assert.Contains(CircuitPhase.Fitted, job.Circuit.PhaseReachedAt.Keys);

        job.Tells(CircuitFacts.Designed(
            runs: [], fittings: [CircuitFacts.Fitting("F1"), CircuitFacts.Fitting("F2"), CircuitFacts.Fitting("F3")]));

        Assert.DoesNotContain(CircuitPhase.Fitted, job.Circuit.PhaseReachedAt.Keys);
        Assert.Contains("Fitting F3 is fixed.", job.Circuit.MissingForNextPhase);
    }

    private static Job Built(CircuitDesigned design) => Job.Of(
        design, CircuitFacts.Fixed("F1"), CircuitFacts.Fixed("F2"), CircuitFacts.Connected(), CircuitFacts.Energised());
}

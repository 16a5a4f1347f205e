using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Corrections;

/// <summary>Two records of one thing.</summary>
public sealed class JoinedIdsTests
{
    [Fact]
    public void The_kept_id_tells_of_both_and_the_other_points_to_it()
    {
        var job = Job.Of(
            Facts.BoxSealed("box-1", label: "by the steps"), Facts.JointMade("box-2"),
            Facts.Joined(ThingKind.Box, "box-1", "box-2"));

        var kept = job.Works.View<BoxView>("box-1");
        Assert.Equal("joint-1", Assert.Single(kept.Joints).JointId);
        Assert.Equal(3, kept.Facts.Count);
        var other = job.Works.View<BoxView>("box-2");
        Assert.Equal("box-1", other.SameAs);
        Assert.Empty(other.Findings);
    }

    [Fact]
    public void Withdrawing_the_joining_parts_them_again()
    {
        var job = Job.Of(Facts.BoxSealed("box-1"), Facts.JointMade("box-2"));
        var joined = job.TellsOne(Facts.Joined(ThingKind.Box, "box-1", "box-2"));

        job.Tells(Facts.Withdrawn(joined));

        Assert.Empty(job.Works.View<BoxView>("box-1").Joints);
        Assert.Null(job.Works.View<BoxView>("box-2").SameAs);
    }

    [Fact]
    public void Joinings_lead_through_one_another()
    {
        var job = Job.Of(
            Facts.DuctPlugged(RunEnd.Near, "d3"),
            Facts.Joined(ThingKind.Duct, "d2", "d3"),
            Facts.Joined(ThingKind.Duct, "d1", "d2"));

        Assert.Equal([RunEnd.Near], job.Works.View<DuctView>("d1").PluggedEnds);
        Assert.Equal("d1", job.Works.View<DuctView>("d3").SameAs);
    }

    [Fact]
    public void Of_two_joinings_that_disagree_the_newest_says_which_id_stays()
    {
        var job = Job.Of(Facts.Joined(ThingKind.Duct, "d1", "d2"), Facts.Joined(ThingKind.Duct, "d2", "d1"));

        Assert.Equal("d2", job.Works.View<DuctView>("d1").SameAs);
        Assert.Null(job.Works.View<DuctView>("d2").SameAs);
    }

    [Fact]
    public void A_circuit_finds_its_cable_under_either_id()
    {
        var job = Job.Of(
            CircuitFacts.Designed(runs: [CircuitFacts.Run("R1", "driver", "F1", 10, cableId: "c2")]),
            Facts.CablePulled("c1", length: 55),
            Facts.Joined(ThingKind.Cable, "c1", "c2"));

        Assert.Equal(["c1"], job.Circuit.CableIds);
        Assert.Equal(55, job.Works.BasisOf(Facts.Circuit).Model!.Runs[0].LengthMetres);
        Assert.True(job.Circuit.PhaseReachedAt.ContainsKey(CircuitPhase.Cabled));
    }

    [Fact]
    public void Two_ids_of_one_cable_lie_in_a_duct_once()
    {
        var job = Job.Of(
            Facts.DuctLaid(), Facts.CablePulled("c1", diameter: 10), Facts.CablePulled("c2", diameter: 10),
            Facts.Joined(ThingKind.Cable, "c1", "c2"));

        var duct = job.Works.View<DuctView>(Facts.Duct);

        Assert.Equal(["c1"], duct.CableIds);
        Assert.Equal(4, duct.FillPercent);
    }
}

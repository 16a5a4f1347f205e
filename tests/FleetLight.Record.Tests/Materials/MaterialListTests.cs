using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Csv;
using FleetLight.Record.Materials;
using FleetLight.Record.Sites;
using FleetLight.Record.Tests.OpenPoints;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Materials;

/// <summary>Every figure here is worked out by hand beside it, with the stated assumptions: 5 %, 0.5 m at each end, 0.6 m of slack.</summary>
public sealed class MaterialListTests
{
    // From the driver 20 m to a box, from there 2 m to each of two fittings.
    private static readonly CircuitDesigned Branched = CircuitFacts.Designed(
        drive: DriveKind.ConstantVoltage,
        runs:
        [
            CircuitFacts.Run("R1", "driver", "box-1", 20, 2.5, Facts.Cable), CircuitFacts.Run("R2", "box-1", "F1", 2), CircuitFacts.Run("R3", "box-1", "F2", 2),
        ]);

    [Fact]
    public void Each_run_is_cut_with_the_allowance_and_both_ends()
    {
        var view = Of(Job.Of(Branched), Branched);

        // 20 × 1.05 + 2 × 0.5 = 22; 2 × 1.05 + 1 = 3.1.
        Assert.Equal([3.1, 3.1, 22], view.Cuts.Select(cut => cut.CutMetres));
        Assert.Equal(["2 × 1.5 mm², class 5", "2 × 1.5 mm², class 5", "2 × 2.5 mm², class 5"], view.Cuts.Select(cut => cut.Cable));
        Assert.Equal(6.2, Line(view, "Cable 2 × 1.5 mm², class 5").Needed);
        Assert.Equal(22, Line(view, "Cable 2 × 2.5 mm², class 5").Needed);
        Assert.Equal(24, Line(view, "Duct for the runs in the ground").Needed);
    }

    [Fact]
    public void What_is_taken_for_granted_is_listed_and_may_be_set_otherwise()
    {
        var assumed = MaterialAssumptions.Default with { AllowancePercent = 10, EndMetres = 1, ReelMetres = 25 };
        var view = MaterialList.OfSite(StatesOf(Job.Of(Branched), Branched), assumed);

        // 20 × 1.1 + 2 × 1 = 24.
        Assert.Equal(24, view.Cuts.Single(cut => cut.RunId == "R1").CutMetres);
        Assert.Equal((10, "%"), Assumed(view, "allowancePercent"));
        Assert.Equal((25, "m"), Assumed(view, "reelMetres"));
        Assert.All(view.Assumptions, one => Assert.Contains("common practice, no source", one.Says, StringComparison.Ordinal));
        Assert.All(view.CutPlans, plan => Assert.Equal(25, plan.ReelMetres));

        static (double, string) Assumed(MaterialsView view, string name) =>
            view.Assumptions.Where(one => one.Name == name).Select(one => (one.Value, one.Unit)).Single();
    }

    [Fact]
    public void A_fitting_at_the_end_of_a_run_from_a_box_has_its_joint_there()
    {
        var view = Of(Job.Of(Branched), Branched);

        var box = Assert.Single(view.Boxes);
        Assert.Equal(("box-1", 3, 3), (box.BoxId, box.Entries, box.Glands));
        // In parallel each pole gathers one conductor of the feed and of both leads.
        var joint = Assert.Single(box.Joints);
        Assert.Equal(JointArrangement.Parallel, joint.Arrangement);
        Assert.Equal([3, 3], joint.ConductorsPerConnector);
        Assert.Equal(2, Line(view, "Connectors for 3 conductors").Needed);
        // 2 × 1.05 + 0.6 = 2.7.
        Assert.All(view.Leads, lead => Assert.Equal(("box-1", 2, 2.7, true), (lead.BoxId, lead.DistanceMetres, lead.LeadMetres, lead.Reaches)));
        Assert.Empty(view.Missing);
        Assert.Equal(250, Line(view, "Gel for the boxes in the ground").Needed);
    }

    [Fact]
    public void Fittings_in_series_on_the_run_need_a_box_beside_each_and_connectors_for_two()
    {
        var design = CircuitFacts.Designed();
        var view = Of(Job.Of(design), design);

        Assert.Equal(["F1", "F2"], view.Boxes.Select(box => box.BesideFittingId));
        // At F1 two cables of two cores and two leads are six conductors, joined two by two; at F2 one cable and two leads.
        Assert.Equal([[2, 2, 2], [2, 2]], view.Boxes.Select(box => box.Joints.Single().ConductorsPerConnector));
        Assert.Equal([3, 2], view.Boxes.Select(box => box.Glands));
        Assert.Equal(5, Line(view, "Connectors for 2 conductors").Needed);
        Assert.Equal(2, view.Missing.Count);
        Assert.All(view.Leads, lead => Assert.Contains("position is not recorded", lead.Missing, StringComparison.Ordinal));
    }

    // On the equator a minute of arc is a nautical mile: 1,853.25 m on a sphere of 6,371.0088 km, so 0.0001° are 11.12 m.
    [Fact]
    public void Without_a_run_the_recorded_positions_say_how_long_a_lead_has_to_be()
    {
        var design = CircuitFacts.Designed(fittings: [CircuitFacts.Fitting("F1") with { Tail = Tail(5) }, CircuitFacts.Fitting("F2") with { Tail = Tail(40) }]);
        var job = Job.Of(
            design, CircuitFacts.Fixed("F1") with { Position = Point(0, 0) }, CircuitFacts.Fixed("F2") with { Position = Point(0.0002, 0) },
            Facts.BoxSealed(label: "B1") with { Position = Point(0.0001, 0) }, Facts.JointMade());

        var view = Of(job, design);

        // 11.12 × 1.05 + 0.6 = 12.28, to the next centimetre.
        Assert.All(view.Leads, lead => Assert.Equal((Facts.Box, 11.12, 12.28), (lead.BoxId, lead.DistanceMetres, lead.LeadMetres)));
        Assert.Equal([false, true], view.Leads.Select(lead => lead.Reaches));
        Assert.Contains("F1 does not reach its joint box: 5 m of 12.28 m", Assert.Single(view.Missing), StringComparison.Ordinal);
        // The tails are cut too: 5 × 1.05 + 1 = 6.25.
        Assert.Equal(6.25, view.Cuts.Single(cut => cut.FittingId == "F1").CutMetres);

        static TailDesign Tail(double metres) => new() { LengthMetres = metres, AreaSquareMillimetres = 1, ConductorClass = ConductorClass.Class5 };
        static GeoPoint Point(double longitude, double latitude) => new() { Type = "Point", Coordinates = [longitude, latitude] };
    }

    [Fact]
    public void What_was_recorded_as_used_stands_beside_it_with_the_difference()
    {
        var job = Job.Of(
            Branched, Facts.DuctLaid(length: 18), Facts.DuctLabelled(), Facts.StringLeft(), Facts.CablePulled(length: 21.5, area: 2.5), Facts.StringLeft(),
            Facts.CableLabelled(end: RunEnd.Near),
            CircuitFacts.Fixed("F1"),
            Facts.JointMade(
                arrangement: JointArrangement.Parallel,
                connectors: [Facts.Connector(Facts.Held("brown"), Facts.Lead("F1"), Facts.Lead("F2")), Facts.Connector(Facts.Held("blue"), Facts.Lead("F1", "b"))]),
            Facts.BoxSealed(label: "B1"));

        var view = Of(job, Branched);

        AssertLine("Cable 2 × 2.5 mm², class 5", 22, 21.5, 0.5);
        AssertLine("Cable 2 × 1.5 mm², class 5", 6.2, 0, 6.2);
        AssertLine("Duct for the runs in the ground", 24, 18, 6);
        AssertLine("Duct laid, extra-low voltage lighting, bore 50 mm", null, 18, null);
        AssertLine("Draw string, one in each duct", 20, 20, 0);
        AssertLine("Fittings", 2, 1, 1);
        AssertLine("Joints", 1, 1, 0);
        AssertLine("Connectors for 3 conductors", 2, 1, 1);
        AssertLine("Connectors for 2 conductors", 0, 1, -1);
        AssertLine("Joint boxes", 1, 1, 0);
        AssertLine("Gel for the boxes in the ground", 250, 250, 0);
        AssertLine("Labels for ducts, one at each end", 2, 2, 0);
        AssertLine("Labels for cables, one at each end", 6, 1, 5);
        AssertLine("Labels for boxes", 1, 1, 0);
        Assert.Equal(21.5, view.Cuts.Single(cut => cut.RunId == "R1").PulledMetres);

        void AssertLine(string item, double? needed, double? recorded, double? difference)
        {
            var line = Line(view, item);
            Assert.Equal((needed, recorded, difference), (line.Needed, line.Recorded, line.Difference));
        }
    }

    [Fact]
    public void The_number_of_cores_is_that_of_the_cable_where_it_is_recorded()
    {
        var job = Job.Of(Branched, Facts.CablePulled(area: 2.5, cores: [Facts.Core("1"), Facts.Core("2"), Facts.Core("3", null)]));

        Assert.Equal("3 × 2.5 mm², class 5", Of(job, Branched).Cuts.Single(cut => cut.RunId == "R1").Cable);
    }

    [Fact]
    public void A_box_with_a_membrane_takes_no_glands_and_one_on_a_wall_no_gel()
    {
        var view = Of(Job.Of(Branched, Facts.BoxSealed(lie: BoxLie.OnWall, entry: BoxEntry.Membrane)), Branched);

        Assert.Equal(0, Line(view, "Glands, one for each cable that enters a box").Needed);
        Assert.Equal(0, Line(view, "Gel for the boxes in the ground").Needed);
    }

    [Fact]
    public void One_circuit_counts_only_what_it_leans_on()
    {
        var other = CircuitFacts.Designed("circuit-2", runs: [CircuitFacts.Run("R1", "driver", "F1", 7, cableId: "other")]);
        var job = Job.Of(
            Branched, other, Facts.DuctLaid(), Facts.DuctLaid("elsewhere", bore: 25), Facts.CablePulled(area: 2.5), Facts.CablePulled(
                "other", ["elsewhere"], cores: [Facts.Core("1", "circuit-2")]));
        var states = StatesOf(job, Branched, other);

        var own = MaterialList.OfCircuit(states, Facts.Circuit);
        var both = MaterialList.OfSite(states);

        Assert.Equal([Facts.Circuit], own.CircuitIds);
        Assert.DoesNotContain(own.Lines, line => line.Item.Contains("bore 25", StringComparison.Ordinal));
        Assert.Equal([Facts.Circuit, "circuit-2"], both.CircuitIds);
        Assert.Equal(own.Cuts.Count + 1, both.Cuts.Count);
        Assert.Contains(both.Lines, line => line.Item.Contains("bore 25", StringComparison.Ordinal));
    }

    [Fact]
    public void A_circuit_without_a_design_is_named_and_its_used_material_counted()
    {
        var view = MaterialList.OfSite(StatesOf(Job.Of(CircuitFacts.Connected(), Facts.CablePulled())));

        Assert.Contains(Facts.Circuit, Assert.Single(view.Missing), StringComparison.Ordinal);
        var line = Line(view, "Cable 2 × 1.5 mm², class 5");
        Assert.Equal((null, 20, null), (line.Needed, line.Recorded, line.Difference));
        Assert.NotNull(line.Note);
    }

    [Fact]
    public void The_table_says_its_units_and_holds_the_same_figures()
    {
        var view = Of(Job.Of(Branched, Facts.CablePulled(area: 2.5)), Branched);

        var rows = CsvText.Read(MaterialCsv.Of(view)).Rows;

        var header = rows[0].Cells.Select(cell => cell.Text).ToList();
        Assert.Equal(view.Lines.Count + view.Cuts.Count + view.Leads.Count, rows.Count - 1);
        Assert.All(rows, row => Assert.Equal(header.Count, row.Cells.Count));
        string[] units = ["(m)", "(pieces)", "(ml)"];
        Assert.Equal(9, header.Count(name => units.Any(unit => name.EndsWith(unit, StringComparison.Ordinal))));
        var cable = rows.Single(row => row.Cells[2].Text == "Cable 2 × 2.5 mm², class 5");
        Assert.Equal(("22", "20", "2"), (Cell(cable, "Needed (m)"), Cell(cable, "Recorded (m)"), Cell(cable, "Difference (m)")));
        Assert.Equal("", Cell(cable, "Needed (pieces)"));

        string Cell(CsvRow row, string name) => row.Cells[header.IndexOf(name)].Text;
    }

    // Whatever was recorded, the figures add up.
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void Figures_add_up_whatever_happened(int seed)
    {
        for (var round = 0; round < 40; round++)
        {
            var works = new WorksModel();
            works.Take(Histories.Make(60, (seed * 1000) + round));
            var designs = works.Views.Values.OfType<CircuitView>()
                .Select(circuit => FleetLight.Record.Designs.RecordedDesign.Of(works.InMemory.FileOf(new ThingRef(ThingKind.Circuit, circuit.Id)))).OfType<CircuitDesigned>();

            var view = MaterialList.OfSite(OpenPointTests.StatesOf(works, [.. designs]));

            Assert.Equal(view.Cuts.Sum(cut => cut.CutMetres), view.Lines.Where(line => line.Sort == MaterialSort.Cable).Sum(line => line.Needed ?? 0), 6);
            Assert.Equal(
                view.Cuts.Select(cut => cut.CutMetres).Order(),
                view.CutPlans.SelectMany(plan => plan.Reels.SelectMany(reel => reel.CutMetres).Concat(plan.TooLongMetres)).Order());
            Assert.All(view.CutPlans, plan => Assert.All(plan.Reels, reel => Assert.Equal(plan.ReelMetres, reel.CutMetres.Sum() + reel.LeftMetres, 2)));
            Assert.Equal(view.Boxes.Sum(box => box.Glands), view.Lines.Where(line => line.Sort == MaterialSort.Gland).Sum(line => line.Needed ?? 0));
            Assert.All(view.Lines, line => Assert.Equal(line.Needed - line.Recorded, line.Difference, (a, b) => Nullable.Equals(Round(a), Round(b))));
            Assert.NotEmpty(MaterialCsv.Of(view));
        }

        static double? Round(double? value) => value is { } known ? Math.Round(known, 2) : null;
    }

    private static SiteStates StatesOf(Job job, params CircuitDesigned[] designs) => OpenPointTests.StatesOf(job, designs);

    private static MaterialsView Of(Job job, CircuitDesigned design) => MaterialList.OfSite(StatesOf(job, design));

    private static MaterialLine Line(MaterialsView view, string item) => Assert.Single(view.Lines, line => line.Item == item);
}

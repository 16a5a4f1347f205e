using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Positions;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Positions;

public sealed class PlacedThingTests
{
    private static readonly IFact[] Garage =
    [
        Placing.Point("a", Placing.Degrees(0, 0, 0.05, PositionMethod.Gnss)), Placing.Point("b", Placing.Degrees(6, 0, 0.05, PositionMethod.Gnss)),
    ];

    [Fact]
    public void A_box_is_placed_by_two_tapes_and_a_side()
    {
        var box = Box(Job.Of([.. Garage, Facts.BoxSealed(), Placing.Box([Placing.Tape("a", 5), Placing.Tape("b", 5)], SideOfLine.Left)]));

        At(3, 4, box.Position!);
        Assert.Equal(PositionMethod.Tape, box.Position!.Method);
        Assert.InRange(box.Placement!.AccuracyMetres!.Value, 0.05, 0.12);
        Assert.Equal(box.Placement.AccuracyMetres, box.Position.AccuracyMetres);
        Assert.True(box.Placement.RelativeEllipse!.SemiMajorMetres < box.Placement.Ellipse!.SemiMajorMetres);
        Assert.Equal(["corner a", "corner b"], box.Placement.Tapes!.Select(tape => tape.Name));
        Assert.Equal([5, 5], box.Placement.FindBy!.Select(find => find.DistanceMetres));
    }

    [Fact]
    public void Whichever_comes_first_it_is_placed()
    {
        var facts = new Crew().Of([.. Garage, Facts.BoxSealed(), Placing.Box([Placing.Tape("a", 5), Placing.Tape("b", 5)], SideOfLine.Left)]);
        var forth = new WorksModel();
        foreach (var fact in facts) forth.Take(fact);
        var back = new WorksModel();
        foreach (var fact in facts.Reverse()) back.Take(fact);

        Assert.Equal(forth.Json(), back.Json());
        At(3, 4, back.View<BoxView>(Facts.Box).Position!);
    }

    [Fact]
    public void What_was_taped_from_a_point_moves_with_it()
    {
        var job = Job.Of([.. Garage, Facts.BoxSealed(), Placing.Box([Placing.Tape("a", 5), Placing.Tape("b", 5)], SideOfLine.Left)]);
        job.Tells(
            Placing.Point("a", Placing.Degrees(10, 20, 0.05, PositionMethod.Gnss)), Placing.Point("b", Placing.Degrees(16, 20, 0.05, PositionMethod.Gnss)));

        At(13, 24, Box(job).Position!);
    }

    [Fact]
    public void A_corrected_point_moves_what_leans_on_it_and_withdrawn_leaves_it_waiting()
    {
        var job = Job.Of(Garage[0], Facts.BoxSealed(), Placing.Box([Placing.Tape("a", 5), Placing.Tape("b", 5)], SideOfLine.Left));
        var b = job.TellsOne(Garage[1]);
        At(3, 4, Box(job).Position!);
        job.Tells(Facts.Withdrawn(b));

        Assert.Equal(PlacementStanding.Waiting, Box(job).Placement!.Standing);
        Assert.Null(Box(job).Position);
        Assert.Contains("reference point b", Assert.Single(Box(job).Placement!.Notes!), StringComparison.Ordinal);
    }

    [Fact]
    public void The_best_known_place_counts_and_all_are_kept()
    {
        var tapes = Placing.Box([Placing.Tape("a", 5), Placing.Tape("b", 5)], SideOfLine.Left);
        var phone = Facts.BoxSealed() with { Position = Placing.Degrees(6, 8, 8, PositionMethod.Phone) };
        foreach (var order in new IFact[][] { [.. Garage, phone, tapes], [.. Garage, tapes, phone] })
        {
            var box = Box(Job.Of(order));
            At(3, 4, box.Position!);
            Assert.Equal(2, box.Placements!.Count);
            Assert.Empty(box.Contradictions);
        }
    }

    [Fact]
    public void The_best_withdrawn_uncovers_the_next()
    {
        var job = Job.Of([.. Garage, Facts.BoxSealed() with { Position = Placing.Degrees(6, 8, 8, PositionMethod.Phone) }]);
        var tapes = job.TellsOne(Placing.Box([Placing.Tape("a", 5), Placing.Tape("b", 5)], SideOfLine.Left));
        job.Tells(Facts.Withdrawn(tapes));

        At(6, 8, Box(job).Position!);
        Assert.Equal(8, Box(job).Placement!.AccuracyMetres);
        Assert.Null(Box(job).Placement!.FindBy);
    }

    [Fact]
    public void Places_that_cannot_both_be_right_contradict()
    {
        var box = Box(Job.Of(
            Facts.BoxSealed() with { Position = Placing.Degrees(0, 0, 5, PositionMethod.Phone) },
            Placing.Box(position: Placing.Degrees(30, 0, 1, PositionMethod.Gnss))));

        At(30, 0, box.Position!);
        Assert.Contains("30.00 m apart", Assert.Single(box.Contradictions), StringComparison.Ordinal);
    }

    [Fact]
    public void Of_positions_of_which_nobody_said_how_the_newest_counts()
    {
        var box = Box(Job.Of(Facts.BoxSealed() with { Position = Placing.Degrees(0, 0) }, Facts.BoxSealed() with { Position = Placing.Degrees(2, 0) }));

        At(2, 0, box.Position!);
        Assert.Null(box.Placement);
        Assert.Null(box.Placements);
    }

    [Fact]
    public void A_well_known_position_is_found_by_tape_and_a_rough_one_is_not()
    {
        IReadOnlyList<FindByView>? Found(double radius) => Box(Job.Of(
            [.. Garage, Facts.BoxSealed() with { Position = Placing.Degrees(3, 4, radius, PositionMethod.Gnss) }])).Placement!.FindBy;

        Assert.Equal([5, 5], Found(0.04)!.Select(find => Math.Round(find.DistanceMetres, 1)));
        // 0.05 m of the corner and 0.04 m of the box, as radii of circles; along one line that is 1.96/2.4477 of their root of squares.
        Assert.All(Found(0.04)!, find => Assert.Equal(0.064 * Confidence.Line / Confidence.Circle, find.AccuracyMetres, 0.006));
        Assert.Null(Found(8));
    }

    [Fact]
    public void The_distances_follow_when_a_point_is_recorded_later()
    {
        var job = Job.Of(Facts.BoxSealed() with { Position = Placing.Degrees(3, 4, 0.04, PositionMethod.Gnss) });
        Assert.Null(Box(job).Placement!.FindBy);
        job.Tells(Garage);

        Assert.Equal(2, Box(job).Placement!.FindBy!.Count);
    }

    // Rough corners, good tapes: on the earth it is known as the corners are, beside them as the tapes are.
    [Fact]
    public void Beside_its_points_it_is_known_as_well_as_its_tapes_are()
    {
        var placement = Box(Job.Of(
            Placing.Point("a", Placing.Degrees(0, 0, 8, PositionMethod.Phone)),
            Placing.Point("b", Placing.Degrees(6, 0, 8, PositionMethod.Phone), tapes: [Placing.Tape("a", 6, 0.02)]),
            Facts.BoxSealed(), Placing.Box([Placing.Tape("a", 5), Placing.Tape("b", 5)], SideOfLine.Left))).Placement!;

        Assert.InRange(placement.AccuracyMetres!.Value, 5, 20);
        Assert.InRange(placement.RelativeEllipse!.SemiMajorMetres, 0.03, 0.1);
        // The distances to the corners are the tapes', however little is known of where the garage is.
        Assert.All(placement.FindBy!, find => Assert.Equal((5, 0.04), (find.DistanceMetres, find.AccuracyMetres)));
    }

    [Fact]
    public void In_a_plane_of_the_sites_own_there_is_a_place_but_no_position()
    {
        var box = Box(Job.Of(
            Placing.Point("a", local: Placing.At(0, 0)), Placing.Point("b", local: Placing.At(6, 0)), Facts.BoxSealed(),
            Placing.Box([Placing.Tape("a", 5), Placing.Tape("b", 5)], SideOfLine.Right)));

        Assert.Null(box.Position);
        Assert.Equal(new LocalPlace { XMetres = 3, YMetres = -4 }, box.Placement!.Local);
    }

    [Fact]
    public void Points_of_different_planes_do_not_go_together() => Assert.Contains(
        "different planes",
        Assert.Single(Box(Job.Of(
            Garage[0], Placing.Point("b", local: Placing.At(6, 0)), Facts.BoxSealed(), Placing.Box([Placing.Tape("a", 5), Placing.Tape("b", 5)]))).Placement!.Notes!),
        StringComparison.Ordinal);

    [Fact]
    public void A_phones_position_beside_the_tapes_tells_the_side()
    {
        var box = Box(Job.Of(
            [.. Garage, Facts.BoxSealed(), Placing.Box([Placing.Tape("a", 5), Placing.Tape("b", 5)], position: Placing.Degrees(4, -6, 5, PositionMethod.Phone))]));

        At(3, -4, box.Position!);
    }

    [Fact]
    public void Two_places_are_both_shown_and_none_counts()
    {
        var box = Box(Job.Of([.. Garage, Facts.BoxSealed(), Placing.Box([Placing.Tape("a", 5), Placing.Tape("b", 5)])]));

        Assert.Equal(PlacementStanding.TwoPlaces, box.Placement!.Standing);
        Assert.Null(box.Position);
        At(3, 4, box.Placement.Candidates![0].Position!);
        At(3, -4, box.Placement.Candidates[1].Position!);
    }

    [Fact]
    public void An_offset_from_a_baseline_places_it()
    {
        var box = Box(Job.Of(
            [.. Garage, Facts.BoxSealed(), Placing.Box(offset: new() { From = "b", To = "a", AlongMetres = 2, SquareMetres = 3, Side = SideOfLine.Left })]));

        At(4, -3, box.Position!);
    }

    // A tape of 5 m that rises 3 m is 4 m on the level.
    [Fact]
    public void A_slope_is_reduced_to_the_level()
    {
        var box = Box(Job.Of([.. Garage, Facts.BoxSealed(), Placing.Box([Placing.Tape("a", 5, rise: 3), Placing.Tape("b", Math.Sqrt(52), rise: 0)], SideOfLine.Left)]));

        At(0, 4, box.Position!);
    }

    [Fact]
    public void Drivers_fittings_ducts_and_cables_are_placed_as_well()
    {
        Tape[] tapes = [Placing.Tape("a", 5), Placing.Tape("b", 5)];
        PlaceMeasured Of(ThingKind kind, string id) =>
            new() { SiteId = Facts.Site, Kind = kind, ThingId = id, Tapes = tapes, Side = SideOfLine.Left };
        var works = Job.Of(
        [
            .. Garage, CircuitFacts.Designed(), Facts.DuctLaid(), Facts.CablePulled(), Of(ThingKind.Circuit, Facts.Circuit),
            Of(ThingKind.Circuit, Facts.Circuit) with { FittingId = CircuitFacts.Designed().Fittings[0].FittingId },
            Of(ThingKind.Duct, Facts.Duct) with { End = RunEnd.Far }, Of(ThingKind.Duct, Facts.Duct) with { ChainageMetres = 7.5 },
            Of(ThingKind.Cable, Facts.Cable) with { End = RunEnd.Far },
        ]).Works;

        At(3, 4, works.Circuit(Facts.Circuit).DriverPosition!);
        At(3, 4, works.Circuit(Facts.Circuit).Fittings[0].Position!);
        Assert.NotNull(works.Circuit(Facts.Circuit).Fittings[0].Placement);
        var duct = works.View<DuctView>(Facts.Duct).Points!;
        Assert.Equal([(null, 7.5), (RunEnd.Far, null)], duct.Select(point => (point.End, point.ChainageMetres)));
        At(3, 4, duct[0].Placement.Position!);
        At(3, 4, Assert.Single(works.View<CableView>(Facts.Cable).Points!).Placement.Position!);
    }

    [Fact]
    public void The_site_shows_its_reference_points()
    {
        var site = Job.Of([Facts.SiteOpened(), .. Garage]).Works.View<SiteView>(Facts.Site);

        Assert.Equal(["a", "b"], site.ReferencePoints!.Select(point => point.PointId));
        Assert.Equal(0.05, site.ReferencePoints![0].Placement.AccuracyMetres!.Value, 0.001);
    }

    private static BoxView Box(Job job) => job.Works.View<BoxView>(Facts.Box);

    private static void At(double east, double north, GeoPoint found)
    {
        var expected = Placing.Degrees(east, north).Coordinates;
        Assert.Equal(expected[0], found.Coordinates[0], 3e-7);
        Assert.Equal(expected[1], found.Coordinates[1], 3e-7);
    }
}

file static class CrewWords
{
    public static IReadOnlyList<Contracts.Wire.RecordedFact> Of(this Crew crew, params IFact[] facts) => [.. facts.Select(fact => crew.Records(fact))];
}

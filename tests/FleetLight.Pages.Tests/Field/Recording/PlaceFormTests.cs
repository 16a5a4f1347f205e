using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Field.Recording;
using FleetLight.Field.Recording.Forms;
using FleetLight.Field.Sites;
using FleetLight.Field.Things;
using FleetLight.Pages.Tests.Field.Sites;
using FleetLight.Testing.Builders;

namespace FleetLight.Pages.Tests.Field.Recording;

/// <summary>The forms of reference points and of measured places, and what a box's record says of finding it.</summary>
public sealed class PlaceFormTests
{
    private static readonly Dictionary<string, string> NoText = [];

    [Fact]
    public void Tapes_from_two_points_make_a_fact()
    {
        var (form, context, data) = Begin("place-measured", Garage(), new ThingRef(ThingKind.Box, Facts.Box));
        data["tapes"] = new JsonArray(Tape("a", 5), Tape("b", 5));
        data["side"] = "left";

        var made = form.Make(context, data, NoText);

        Assert.Empty(made.Problems);
        var place = Assert.IsType<PlaceMeasured>(made.Fact);
        Assert.Equal((ThingKind.Box, Facts.Box, SideOfLine.Left), (place.Kind, place.ThingId, place.Side));
        Assert.Equal([("a", 5.0), ("b", 5.0)], place.Tapes!.Select(tape => (tape.From, tape.DistanceMetres)));
        Assert.Equal([Caution.Digging], form.Cautions(data));
    }

    [Fact]
    public void A_tape_without_a_distance_is_asked_for()
    {
        var (form, context, data) = Begin("place-measured", Garage(), new ThingRef(ThingKind.Box, Facts.Box));
        data["tapes"] = new JsonArray(Tape("a", 5), new JsonObject { ["from"] = "b" });

        Assert.NotNull(form.Make(context, data, NoText).Of("tapes"));
    }

    [Fact]
    public void The_points_of_the_site_are_offered_by_their_names() =>
        Assert.Equal([new Choice("a", "Corner of the garage"), new Choice("b", "Gate post")], Begin("place-measured", Garage(), null).Context.ReferencePoints());

    [Fact]
    public void A_reference_point_needs_its_name_only()
    {
        var (form, context, data) = Begin("reference-point", Garage(), null);
        Assert.Equal("data.name", Assert.Single(form.Make(context, data, NoText).Problems).Field);
        data["name"] = "Lamp post by the road";

        Assert.Empty(form.Make(context, data, NoText).Problems);
    }

    [Fact]
    public void A_box_says_how_to_find_it_by_tape()
    {
        var site = Garage(new PlaceMeasured
        {
            SiteId = Facts.Site,
            Kind = ThingKind.Box,
            ThingId = Facts.Box,
            Side = SideOfLine.Left,
            Tapes = [new() { From = "a", DistanceMetres = 5, AccuracyMetres = 0.04 }, new() { From = "b", DistanceMetres = 5, AccuracyMetres = 0.04 }],
        });
        var lines = ThingLines.Of(site.Works.BoxOf(Facts.Box)!, site);

        Assert.Equal("5.00 m from Corner of the garage, 5.00 m from Gate post", Assert.Single(lines, line => line.Name == "Taped").Says);
        Assert.StartsWith("5.00 m ± 0.0", Assert.Single(lines, line => line.Name == "Find it by tape").Says, StringComparison.Ordinal);
        Assert.StartsWith("by tape, within", Assert.Single(lines, line => line.Name == "Its place").Says, StringComparison.Ordinal);
    }

    // 8 m cannot be found with a tape: nothing is said of distances.
    [Fact]
    public void A_box_placed_by_phone_says_so_and_no_distance()
    {
        var site = Garage(Facts.BoxSealed() with { Position = At(3, 4, 8, PositionMethod.Phone) });
        var lines = ThingLines.Of(site.Works.BoxOf(Facts.Box)!, site);

        Assert.Equal("by phone, within 8 m", Assert.Single(lines, line => line.Name == "Its place").Says);
        Assert.DoesNotContain(lines, line => line.Name is "Taped" or "Find it by tape");
    }

    [Fact]
    public void A_tape_may_say_its_rise_and_how_far_it_may_be_off()
    {
        var (form, context, data) = Begin("place-measured", Garage(), new ThingRef(ThingKind.Box, Facts.Box));
        data["tapes"] = new JsonArray(Tape("a", 5), Tape("b", 5));
        var draft = new FormDraft(form, context, data);
        draft.SetNumber("tapes[1].riseMetres", "-0,4");
        draft.SetNumber("tapes[1].accuracyMetres", "0.1");

        Assert.Equal((-0.4, 0.1), Assert.IsType<PlaceMeasured>(draft.Result.Fact).Tapes![1] is var tape ? (tape.RiseMetres, tape.AccuracyMetres) : default);
        Assert.Equal("-0.4", draft.Text("tapes[1].riseMetres"));

        // As long as the tape: refused where it was typed.
        draft.SetNumber("tapes[1].riseMetres", "5");
        Assert.Contains("not smaller than the tape", draft.Wrong("tapes[1].riseMetres"), StringComparison.Ordinal);
        Assert.Null(draft.WrongAsWhole("tapes"));

        draft.SetNumber("tapes[1].riseMetres", "half");
        Assert.Contains("'half' is no number", draft.Wrong("tapes[1].riseMetres"), StringComparison.Ordinal);
        draft.SetNumber("tapes[1].riseMetres", "");
        Assert.Empty(draft.Result.Problems);
    }

    [Fact]
    public void An_offset_from_a_line_makes_a_fact_of_its_own()
    {
        var (form, context, data) = Begin("place-measured", Garage(), new ThingRef(ThingKind.Box, Facts.Box));
        var draft = new FormDraft(form, context, data);
        draft.Set("offset.from", "a");

        Assert.Equal(
            ["data.offset.to", "data.offset.alongMetres", "data.offset.squareMetres", "data.offset.side"], draft.Result.Problems.Select(problem => problem.Field));

        draft.Set("offset.to", "b");
        draft.SetNumber("offset.alongMetres", "2.5");
        draft.SetNumber("offset.squareMetres", "1");
        draft.Set("offset.side", "left");
        draft.SetNumber("offset.accuracyMetres", "0.2");

        var offset = Assert.IsType<PlaceMeasured>(draft.Result.Fact).Offset;
        Assert.Equal(new BaselineOffset { From = "a", To = "b", AlongMetres = 2.5, SquareMetres = 1, Side = SideOfLine.Left, AccuracyMetres = 0.2 }, offset);

        // With its last part it is gone, and nothing of it is asked for.
        foreach (var part in (string[])["from", "to", "side"]) draft.Set($"offset.{part}", null);
        foreach (var part in (string[])["alongMetres", "squareMetres", "accuracyMetres"]) draft.SetNumber($"offset.{part}", "");
        Assert.Null(data["offset"]);
    }

    [Fact]
    public void A_reference_point_may_stand_on_the_sites_own_plan()
    {
        var (form, context, data) = Begin("reference-point", Garage(), null);
        data["name"] = "Column of the porch";
        var draft = new FormDraft(form, context, data);
        draft.SetNumber("local.xMetres", "3.2");
        draft.SetNumber("local.yMetres", "-4");

        Assert.Equal(new LocalPoint { XMetres = 3.2, YMetres = -4 }, Assert.IsType<ReferencePointRecorded>(draft.Result.Fact).Local);
    }

    [Fact]
    public void What_is_seldom_told_is_folded_away()
    {
        var fields = FactForms.Find("place-measured")!.Fields;

        Assert.Equal(["offset", "note"], fields.Where(field => field.Seldom).Select(field => field.Name));
        Assert.Equal(["riseMetres", "accuracyMetres"], fields.Single(field => field.Name == "tapes").Parts.Where(part => part.Seldom).Select(part => part.Name));
    }

    [Fact]
    public void The_points_that_were_taped_from_come_first_the_next_time()
    {
        var (form, _, data) = Begin("place-measured", Garage(), new ThingRef(ThingKind.Box, Facts.Box));
        data["tapes"] = new JsonArray(Tape("b", 5), Tape("a", 5));

        Assert.Equal("""["b","a"]""", form.Remembered(data)["tapedFrom"]!.ToJsonString());
    }

    [Fact]
    public void A_circuit_says_where_its_driver_and_its_fittings_are()
    {
        var site = Garage(
            CircuitFacts.Designed(),
            Measured(null) with { Side = SideOfLine.Left, Tapes = [new() { From = "a", DistanceMetres = 5 }, new() { From = "b", DistanceMetres = 5 }] },
            Measured("F2") with { Offset = new() { From = "a", To = "b", AlongMetres = 2, SquareMetres = 3, Side = SideOfLine.Right } });

        var lines = ThingLines.Of(site.Designs[0], site.Works.BasisOf(Facts.Circuit), site);

        Assert.StartsWith("by tape, within", Assert.Single(lines, line => line.Name == "Driver").Says, StringComparison.Ordinal);
        Assert.DoesNotContain("within", Assert.Single(lines, line => line.Name == "Fitting 1").Says, StringComparison.Ordinal);
        Assert.Matches("; by tape, within .*; .* from (Corner of the garage|Gate post)", Assert.Single(lines, line => line.Name == "Fitting 2").Says);
    }

    [Fact]
    public void An_offset_is_said_with_the_names_of_its_points()
    {
        var site = Garage(new PlaceMeasured
        {
            SiteId = Facts.Site,
            Kind = ThingKind.Box,
            ThingId = Facts.Box,
            Offset = new() { From = "a", To = "b", AlongMetres = 2, SquareMetres = 3, Side = SideOfLine.Right },
        });

        Assert.Equal(
            "2.00 m along from Corner of the garage towards Gate post, 3.00 m square to the right",
            Assert.Single(ThingLines.Of(site.Works.BoxOf(Facts.Box)!, site), line => line.Name == "Measured").Says);
    }

    private static PlaceMeasured Measured(string? fitting) => new() { SiteId = Facts.Site, Kind = ThingKind.Circuit, ThingId = Facts.Circuit, FittingId = fitting };

    private static SiteInHand Garage(params IFact[] more) => new(
    [
        Facts.SiteOpened(), Facts.BoxSealed(),
        new ReferencePointRecorded { SiteId = Facts.Site, PointId = "a", Name = "Corner of the garage", Position = At(0, 0, 0.02, PositionMethod.Gnss) },
        new ReferencePointRecorded { SiteId = Facts.Site, PointId = "b", Name = "Gate post", Position = At(6, 0, 0.02, PositionMethod.Gnss) },
        .. more,
    ]);

    // At 42° N a degree is 82,852 m by 111,071 m (WGS 84 radii of curvature).
    private static GeoPoint At(double east, double north, double accuracy, PositionMethod method) =>
        new() { Type = "Point", Coordinates = [-30 + (east / 82852.0), 42 + (north / 111071.0)], AccuracyMetres = accuracy, Method = method };

    private static JsonObject Tape(string from, double metres) => new() { ["from"] = from, ["distanceMetres"] = metres };

    private static (FactForm Form, FormContext Context, JsonObject Data) Begin(string key, SiteInHand site, ThingRef? about)
    {
        var form = FactForms.Find(key)!;
        var context = new FormContext(site, NewId.Of, null, about);
        var data = new JsonObject { ["siteId"] = site.SiteId };
        form.Begin(context, data);
        return (form, context, data);
    }
}

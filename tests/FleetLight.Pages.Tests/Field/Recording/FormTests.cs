using System.Text.Json.Nodes;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Field.Recording.Facts;
using FleetLight.Field.Recording.Forms;
using FleetLight.Field.Sites;
using FleetLight.PageParts.Wording;
using FleetLight.Pages.Tests.Field.Sites;
using FleetLight.Testing.Builders;

namespace FleetLight.Pages.Tests.Field.Recording;

/// <summary>What the forms begin with, what they make, and what they say is wrong.</summary>
public sealed class FormTests
{
    // Those are made elsewhere: a site in the list of sites, a design by the office, a correction from what was recorded, a photo beside a fact.
    private static readonly string[] MadeElsewhere = ["site.opened", "circuit.designed", "fact.corrected", "photo.taken", "visit"];

    private static readonly Dictionary<string, string> NoText = [];

    [Fact]
    public void Every_type_of_fact_that_crews_record_has_a_form()
    {
        var without = FactTypes.All.Where(type => FactForms.Of(type.Value) is null).Select(type => type.Key);

        Assert.All(without, name => Assert.Contains(MadeElsewhere, each => name.StartsWith($"fleetlight.{each}", StringComparison.Ordinal)));
    }

    [Fact]
    public void Every_field_fills_a_member_of_its_fact() => Assert.All(FactForms.All, form => Assert.All(form.Fields, field =>
        Assert.NotNull(form.Type.GetProperty(char.ToUpperInvariant(field.Name[0]) + field.Name[1..]))));

    [Fact]
    public void What_usually_follows_are_forms() => Assert.All(FactForms.All.SelectMany(form => form.Follows), key => Assert.NotNull(FactForms.Find(key)));

    [Theory]
    [InlineData("duct-laid", "lengthMetres", 12.5)]
    [InlineData("cable-pulled", "lengthMetres", 14.0)]
    [InlineData("reading-taken", "value", 9.5)]
    [InlineData("string-left", null, null)]
    [InlineData("duct-plugged", null, null)]
    [InlineData("fitting-fixed", null, null)]
    [InlineData("driver-connected", null, null)]
    [InlineData("circuit-energised", null, null)]
    [InlineData("circuit-handed-over", null, null)]
    [InlineData("core-sleeved", null, null)]
    public void The_common_ones_need_one_number_at_most(string key, string? member, double? value)
    {
        var (form, context, data) = Begin(key, FullSite());
        if (member is not null) data[member] = value;

        var made = form.Make(context, data, NoText);

        Assert.Empty(made.Problems);
        Assert.IsType(form.Type, made.Fact);
    }

    [Fact]
    public void A_duct_begins_as_the_last_one_was()
    {
        var last = new JsonObject { ["colour"] = "orange", ["boreMillimetres"] = 32, ["depthMillimetres"] = 450, ["farEndAt"] = "the gate", ["service"] = "mains-supply" };
        var (form, _, data) = Begin("duct-laid", FullSite(), last);

        Assert.Equal("orange", data["colour"]!.GetValue<string>());
        Assert.Equal(32, data["boreMillimetres"]!.GetValue<int>());
        Assert.Equal("the gate", data["nearEndAt"]!.GetValue<string>());
        Assert.Equal([Caution.Digging, Caution.Mains], form.Cautions(data));
    }

    [Fact]
    public void A_cable_begins_with_what_the_design_waits_for()
    {
        var site = new SiteInHand(
            Facts.SiteOpened(), CircuitFacts.Designed(runs: [CircuitFacts.Run("r1", "driver", "F1", 10, cableId: "c-1"), CircuitFacts.Run("r2", "F1", "F2", 7, cableId: "c-2")]),
            Facts.CablePulled("c-1"));
        var (_, _, data) = Begin("cable-pulled", site);

        Assert.Equal("c-2", data["cableId"]!.GetValue<string>());
        Assert.Equal(7, data["lengthMetres"]!.GetValue<double>());
        Assert.Equal(Facts.Circuit, data["cores"]![0]!["circuitId"]!.GetValue<string>());
    }

    [Fact]
    public void Fittings_are_offered_one_after_the_other()
    {
        var site = new SiteInHand(Facts.SiteOpened(), CircuitFacts.Designed(), new FittingFixed { SiteId = Facts.Site, CircuitId = Facts.Circuit, FittingId = "F1" });
        var (_, _, data) = Begin("fitting-fixed", site);

        Assert.Equal("F2", data["fittingId"]!.GetValue<string>());
    }

    [Fact]
    public void What_is_wrong_is_said_in_the_words_of_the_service()
    {
        var (form, context, data) = Begin("duct-laid", FullSite());
        data["lengthMetres"] = 12000;

        var problem = form.Make(context, data, NoText).Of("lengthMetres");

        Assert.NotNull(problem);
        Assert.Contains("0.1 to 2000 m", problem.Detail, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_missing_is_asked_for_at_its_field()
    {
        var (form, context, data) = Begin("duct-laid", FullSite());

        Assert.Equal("data.lengthMetres", Assert.Single(form.Make(context, data, NoText).Problems).Field);
    }

    [Fact]
    public void Figures_of_another_kind_of_test_are_left_out()
    {
        var (form, context, data) = Begin("test-made", FullSite());
        data["megohms"] = 200;
        data["nominalVolts"] = 48;
        data["ohms"] = 3;

        var test = Assert.IsType<TestMade>(form.Make(context, data, NoText).Fact);

        Assert.Null(test.Ohms);
        Assert.Equal(200, test.Megohms);
    }

    [Theory]
    [InlineData("D7", "D8")]
    [InlineData("D09,D10,x", "D11")]
    [InlineData("A-1,B-4,A-2", "A-3")]
    [InlineData("north,south", null)]
    [InlineData("20260302", null)]
    public void The_next_label_counts_on(string labels, string? next) => Assert.Equal(next, LabelRow.Next(labels.Split(',')));

    [Theory]
    [InlineData("12,5", 12.5)]
    [InlineData(" 12.5 ", 12.5)]
    [InlineData("−3", -3)]
    public void A_comma_and_a_point_are_the_same(string text, double value)
    {
        Assert.True(Figures.TryRead(text, out var read));
        Assert.Equal(value, read);
    }

    [Theory]
    [InlineData("")]
    [InlineData("1.000,5")]
    [InlineData("12 m")]
    [InlineData("1e3")]
    public void What_is_no_number_is_none(string text) => Assert.False(Figures.TryRead(text, out _));

    private static SiteInHand FullSite() => new(Facts.SiteOpened(), Facts.DuctLaid(), CircuitFacts.Designed(), Facts.CablePulled());

    private static (FactForm Form, FormContext Context, JsonObject Data) Begin(string key, SiteInHand site, JsonObject? last = null, ThingRef? about = null)
    {
        var form = FactForms.Find(key)!;
        var context = new FormContext(site, NewId.Of, last, about);
        var data = new JsonObject { ["siteId"] = site.SiteId };
        form.Begin(context, data);
        return (form, context, data);
    }
}

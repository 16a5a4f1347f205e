using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Field.Sites;
using FleetLight.Testing.Builders;

namespace FleetLight.Pages.Tests.Field.Sites;

/// <summary>What things are called, in what order they stand, and what their addresses are.</summary>
public sealed class NamesTests
{
    [Fact]
    public void A_label_goes_before_everything_else()
    {
        var site = new SiteInHand(Facts.SiteOpened(), Facts.DuctLaid(), Facts.DuctLabelled(label: "D7"));

        Assert.Equal("D7", ThingNames.Of(site, ThingKind.Duct, Facts.Duct));
    }

    [Fact]
    public void Without_a_label_a_duct_is_called_by_what_it_is()
    {
        var site = new SiteInHand(Facts.SiteOpened(), Facts.DuctLaid(length: 12.5));

        Assert.Equal("Duct, black, 50 mm, 12.5 m long (duct-1)", ThingNames.Of(site, ThingKind.Duct, Facts.Duct));
    }

    [Fact]
    public void The_ducts_of_a_site_stand_in_the_order_in_which_people_look_for_them()
    {
        var site = new SiteInHand(
            Facts.SiteOpened(), Facts.DuctLaid("d-a"), Facts.DuctLaid("d-b"), Facts.DuctLabelled("d-a", label: "D-10"), Facts.DuctLabelled("d-b", label: "D-9"));

        Assert.Equal(["D-9", "D-10"], site.Ducts.Select(ThingNames.Of));
    }

    [Theory]
    [InlineData(ThingKind.Duct, "d-1")]
    [InlineData(ThingKind.Circuit, "k:1.a")]
    public void An_address_leads_back_to_its_thing(ThingKind kind, string id) =>
        Assert.Equal(new ThingRef(kind, id), ThingAddress.Read(ThingAddress.Of(new ThingRef(kind, id))));

    [Theory]
    [InlineData(null)]
    [InlineData("duct")]
    [InlineData("duct/")]
    [InlineData("lamp/1")]
    [InlineData("0/1")]
    public void What_is_no_address_names_nothing(string? text) => Assert.Null(ThingAddress.Read(text));

    [Fact]
    public void New_ids_fit_the_contract_and_differ()
    {
        var ids = Enumerable.Range(0, 1000).Select(_ => NewId.Of("d")).ToHashSet();

        Assert.Equal(1000, ids.Count);
        Assert.All(ids, id => Assert.Matches(Contracts.Facts.ThingIdAttribute.Pattern, id));
    }
}

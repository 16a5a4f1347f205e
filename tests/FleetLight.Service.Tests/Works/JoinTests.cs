using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Works;

/// <summary>Two crews recorded one thing under two ids; a joining says so, and the state follows.</summary>
public sealed class JoinTests(FleetService service) : IClassFixture<FleetService>
{
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task What_was_recorded_of_the_second_id_counts_for_the_first_whenever_the_joining_comes(bool joinedFirst)
    {
        Site site = await OpenAsync();
        IFact join = Join(ThingKind.Duct, "duct-1", "duct-2");
        if (joinedFirst) await site.TellAsync(join);
        await site.TellAsync(Some.DuctLaid("duct-1"));
        await site.TellAsync(Some.DuctLabelled("duct-2", "North 4"));
        if (!joinedFirst) await site.TellAsync(join);

        DuctView kept = await site.DuctAsync("duct-1");
        DuctView same = await site.DuctAsync("duct-2");

        Assert.Equal("North 4", kept.Labels![RunEnd.Near]);
        Assert.Null(kept.SameAs);
        Assert.Equal("duct-1", same.SameAs);
        Assert.Empty(same.Findings);
    }

    [Fact]
    public async Task A_finding_on_the_second_id_is_cleared_when_it_turns_out_to_be_the_first()
    {
        Site site = await OpenAsync();
        await site.TellAsync(Some.BoxSealed("box-1"), Some.BoxSealed("box-2", gelFilled: false));
        AlertView alert = Assert.Single(await OpenAlertsAsync(site, "ground-box-not-gel-filled"));
        Assert.Equal("box-2", alert.Finding.Subject.Id);

        // The newest closing of the one box says that it holds gel.
        await site.TellAsync(Join(ThingKind.Box, "box-1", "box-2"), Some.BoxSealed("box-1"));

        Assert.Empty(await OpenAlertsAsync(site, "ground-box-not-gel-filled"));
    }

    [Fact]
    public async Task Three_ids_of_one_thing_are_one_thing()
    {
        Site site = await OpenAsync();
        await site.TellAsync(
            Some.CablePulled("cable-1"), Some.CableLabelled("cable-2", "C2"), Join(ThingKind.Cable, "cable-2", "cable-3"),
            Join(ThingKind.Cable, "cable-1", "cable-2"), Some.CableLabelled("cable-3", "C3"));

        CableView kept = await site.CableAsync("cable-1");

        Assert.Equal("C3", kept.Labels![RunEnd.Far]);
        Assert.Equal("cable-1", (await site.CableAsync("cable-2")).SameAs);
        Assert.Equal("cable-1", (await site.CableAsync("cable-3")).SameAs);
    }

    [Fact]
    public async Task A_circuit_whose_design_names_the_second_id_of_a_cable_is_cabled()
    {
        Site site = await OpenAsync();
        await site.TellAsync(Some.CircuitDesigned(cable: "cable-as-drawn"), Some.CablePulled("cable-as-pulled", circuit: "circuit-2"));
        Assert.Equal(CircuitPhase.Designed, (await site.CircuitAsync()).Phase);

        await site.TellAsync(Join(ThingKind.Cable, "cable-as-pulled", "cable-as-drawn"));

        CircuitView circuit = await site.CircuitAsync();
        Assert.Equal(CircuitPhase.Cabled, circuit.Phase);
        Assert.Equal(["cable-as-pulled"], circuit.CableIds);
    }

    [Fact]
    public async Task A_withdrawn_joining_parts_the_things_again()
    {
        Site site = await OpenAsync();
        ThingsJoined join = Join(ThingKind.Duct, "duct-1", "duct-2");
        await site.Device.SendAsync(
            site.Device.Record(Some.DuctLaid("duct-1")), site.Device.Record(Some.DuctLabelled("duct-2")), site.Device.Record(join, id: "join"));
        await service.CaughtUpAsync();
        Assert.NotNull((await site.DuctAsync("duct-1")).Labels);

        await site.TellAsync(Correct.Withdraw("join", join));

        Assert.Null((await site.DuctAsync("duct-1")).Labels);
        Assert.Null((await site.DuctAsync("duct-2")).SameAs);
    }

    private static ThingsJoined Join(ThingKind kind, string kept, string same) => new() { SiteId = Some.Site, Kind = kind, KeptId = kept, SameId = same };

    private static async Task<IReadOnlyList<AlertView>> OpenAlertsAsync(Site site, string rule) =>
        (await site.Organisation.Office.ReadAsync<Page<AlertView>>($"/v1/alerts?rule={rule}")).Items;

    private async Task<Site> OpenAsync()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        return new Site(service, organisation, await organisation.AddDeviceAsync());
    }
}

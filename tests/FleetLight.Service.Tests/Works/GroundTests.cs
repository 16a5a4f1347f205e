using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Works;

/// <summary>A fact before its ground: the state holds what is known, says what it waits for, and becomes right when that comes.</summary>
public sealed class GroundTests(FleetService service) : IClassFixture<FleetService>
{
    [Fact]
    public async Task A_reading_before_the_design_is_judged_when_the_design_comes()
    {
        Site site = await OpenAsync();
        await site.TellAsync(Some.Reading(12.4));
        CircuitView before = await site.CircuitAsync();
        Assert.Equal((CircuitPhase.Named, CircuitVerdict.CannotBeJudged), (before.Phase, before.Verdict));
        Assert.NotEmpty(before.WaitingFor);

        await site.Device.TellAsync(Device.Began, Some.CircuitDesigned());
        await service.CaughtUpAsync();

        CircuitView after = await site.CircuitAsync();
        Assert.Equal((CircuitPhase.Designed, CircuitVerdict.Outside), (after.Phase, after.Verdict));
        Assert.Equal([12.4], after.LastReadings.Select(reading => reading.Value));
    }

    [Fact]
    public async Task A_pull_before_its_duct_shows_in_the_duct_when_that_is_laid()
    {
        Site site = await OpenAsync();
        await site.TellAsync(Some.CablePulled());
        DuctView before = await site.DuctAsync();
        Assert.Equal([Some.Cable], before.CableIds);
        Assert.NotEmpty(before.WaitingFor);
        Assert.Null(before.FillPercent);

        await site.Device.TellAsync(Device.Began, Some.DuctLaid());
        await service.CaughtUpAsync();

        DuctView after = await site.DuctAsync();
        Assert.Empty(after.WaitingFor);
        Assert.Equal(50, after.BoreMillimetres);
        // A cable of 7 mm in a bore of 50 mm.
        Assert.Equal(1.96, after.FillPercent);
    }

    [Fact]
    public async Task A_joint_before_its_box_and_its_cable_shows_in_both_when_they_come()
    {
        Site site = await OpenAsync();
        await site.TellAsync(Some.JointMade());
        Assert.NotEmpty((await site.BoxAsync()).WaitingFor);
        Assert.Equal([Some.Box], (await site.CircuitAsync()).BoxIds);

        await site.TellAsync(Some.BoxSealed(), Some.CablePulled());

        BoxView box = await site.BoxAsync();
        Assert.Empty(box.WaitingFor);
        Assert.Equal("joint-1", Assert.Single(box.Joints).JointId);
        Assert.Equal(["cable-1"], (await site.CircuitAsync()).CableIds);
    }

    [Fact]
    public async Task A_cable_that_a_design_names_and_that_was_pulled_before_makes_the_run()
    {
        Site site = await OpenAsync();
        await site.TellAsync(Some.CablePulled(circuit: "another-circuit"));

        await site.TellAsync(Some.CircuitDesigned());

        Assert.Equal(CircuitPhase.Cabled, (await site.CircuitAsync()).Phase);
    }

    [Fact]
    public async Task A_change_to_a_duct_reaches_the_circuits_of_its_cables()
    {
        Site site = await OpenAsync();
        await site.TellAsync(Some.CircuitDesigned(), Some.CablePulled(), Some.DuctLaid());
        Assert.Contains("duct-left-open", await RulesAsync(site));

        await site.TellAsync(Some.DuctPlugged(RunEnd.Near), Some.DuctPlugged(RunEnd.Far));

        Assert.DoesNotContain("duct-left-open", await RulesAsync(site));
    }

    [Fact]
    public async Task A_longer_cable_pulled_later_changes_the_verdict_on_an_earlier_reading()
    {
        Site site = await OpenAsync();
        await site.TellAsync(Some.CircuitDesigned(), Some.CablePulled(length: 25), Some.Reading(18));
        Assert.Equal(CircuitVerdict.Outside, (await site.CircuitAsync()).Verdict);

        // The length was wrong: recorded again, as of the same hour.
        await site.Device.TellAsync(Device.Began.AddHours(1), Some.CablePulled(length: 480));
        await service.CaughtUpAsync();

        Assert.Equal(CircuitVerdict.Within, (await site.CircuitAsync()).Verdict);
    }

    [Fact]
    public async Task Facts_of_two_crews_that_contradict_each_other_are_both_kept_and_named()
    {
        Site site = await OpenAsync();
        Device other = await site.Organisation.AddDeviceAsync();
        await site.TellAsync(Some.DuctLaid(length: 24));
        await other.TellAsync(Device.Began.AddDays(1), Some.DuctLaid(length: 42));
        await service.CaughtUpAsync();

        DuctView duct = await site.DuctAsync();

        Assert.Equal(42, duct.LengthMetres);
        Assert.Equal(2, duct.Facts.Count);
        Assert.Contains(duct.Contradictions, text => text.Contains("24 m", StringComparison.Ordinal));
    }

    private static async Task<IReadOnlyList<string>> RulesAsync(Site site) =>
        Assert.Single((await site.Organisation.Office.ReadAsync<Page<CircuitLine>>("/v1/circuits")).Items).Rules;

    private async Task<Site> OpenAsync()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        return new Site(service, organisation, await organisation.AddDeviceAsync());
    }
}

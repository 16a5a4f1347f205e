using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Works;

/// <summary>Withdrawing uncovers, replacing changes, and a correction may come before the fact that it corrects.</summary>
public sealed class CorrectionTests(FleetService service) : IClassFixture<FleetService>
{
    [Fact]
    public async Task Withdrawing_the_newest_reading_uncovers_the_one_before()
    {
        Site site = await OpenAsync();
        await site.Device.SendAsync(site.Device.Record(Some.Reading(9.1)), site.Device.Record(Some.Reading(99), id: "wrong"));
        await service.CaughtUpAsync();
        Assert.Equal([99, 9.1], await site.ReadingsAsync());

        await site.TellAsync(Correct.Withdraw("wrong", Some.Reading()));

        Assert.Equal([9.1], await site.ReadingsAsync());
        Assert.Equal([9.1], await site.ListedAsync());
    }

    [Fact]
    public async Task Withdrawing_the_newest_length_uncovers_the_one_before()
    {
        Site site = await OpenAsync();
        await site.Device.SendAsync(site.Device.Record(Some.CablePulled(length: 25)), site.Device.Record(Some.CablePulled(length: 52), id: "slip"));
        await service.CaughtUpAsync();
        Assert.Equal(52, (await site.CableAsync()).LengthMetres);

        await site.TellAsync(Correct.Withdraw("slip", Some.CablePulled()));

        CableView cable = await site.CableAsync();
        Assert.Equal(25, cable.LengthMetres);
        FactLine withdrawn = Assert.Single(cable.Facts, fact => fact.Fact == $"{site.Device.Source}#slip");
        Assert.Equal((CorrectionAction.Withdraw, "It was not so."), (withdrawn.Corrected, withdrawn.CorrectionReason));
    }

    [Fact]
    public async Task Withdrawing_the_only_fact_leaves_the_thing_waiting_for_it()
    {
        Site site = await OpenAsync();
        await site.Device.SendAsync(site.Device.Record(Some.CablePulled(), id: "only"));
        await site.TellAsync(Correct.Withdraw("only", Some.CablePulled()));

        CableView cable = await site.CableAsync();
        Assert.Null(cable.LengthMetres);
        Assert.NotEmpty(cable.WaitingFor);
    }

    [Fact]
    public async Task Replacing_puts_other_data_in_the_place_and_at_the_time_of_the_fact()
    {
        Site site = await OpenAsync();
        await site.Device.SendAsync(site.Device.Record(Some.Reading(99), Device.Began, id: "slip"), site.Device.Record(Some.Reading(9.2), Device.Began.AddDays(1)));

        await site.TellAsync(Correct.Replace("slip", Some.Reading(9.9)));

        Assert.Equal([9.2, 9.9], await site.ReadingsAsync());
        Assert.Equal([9.2, 9.9], await site.ListedAsync());
    }

    [Fact]
    public async Task A_replaced_length_changes_what_the_circuit_should_read()
    {
        Site site = await OpenAsync();
        await site.TellAsync(Some.CircuitDesigned());
        await site.Device.SendAsync(site.Device.Record(Some.CablePulled(length: 25), id: "pull"));
        double before = await site.ExpectedVoltsAsync();

        await site.TellAsync(Correct.Replace("pull", Some.CablePulled(length: 250)));

        Assert.True(await site.ExpectedVoltsAsync() > before + 3, $"{before} V before");
    }

    [Fact]
    public async Task A_correction_that_arrives_before_its_fact_waits_for_it()
    {
        Site site = await OpenAsync();
        SentEvent wrong = site.Device.Record(Some.Reading(99), id: "wrong");
        SentEvent right = site.Device.Record(Some.Reading(9.1));
        await site.Device.SendAsync(right, site.Device.Record(Correct.Withdraw("wrong", Some.Reading())));
        await service.CaughtUpAsync();
        Assert.Equal([9.1], await site.ReadingsAsync());

        await site.Device.SendAsync(wrong);
        await service.CaughtUpAsync();

        Assert.Equal([9.1], await site.ReadingsAsync());
        Assert.Equal([9.1], await site.ListedAsync());
    }

    [Fact]
    public async Task A_replacement_that_arrives_before_its_fact_counts_when_the_fact_has_come()
    {
        Site site = await OpenAsync();
        SentEvent wrong = site.Device.Record(Some.DuctLaid(colour: DuctColour.Blue), id: "wrong");
        await site.TellAsync(Correct.Replace("wrong", Some.DuctLaid(colour: DuctColour.Black)));

        await site.Device.SendAsync(wrong);
        await service.CaughtUpAsync();

        Assert.Equal(DuctColour.Black, (await site.DuctAsync()).Colour);
    }

    [Fact]
    public async Task A_correction_and_its_fact_in_one_batch_find_each_other_in_either_order()
    {
        Site site = await OpenAsync();
        SentEvent[] both =
        [
            site.Device.Record(Correct.Withdraw("a", Some.Reading())),
            site.Device.Record(Some.Reading(1), id: "a"),
            site.Device.Record(Some.Reading(2), id: "b"),
            site.Device.Record(Correct.Withdraw("b", Some.Reading())),
            site.Device.Record(Some.Reading(3)),
        ];

        await site.Device.SendAsync(both);
        await service.CaughtUpAsync();

        Assert.Equal([3], await site.ReadingsAsync());
        Assert.Equal([3], await site.ListedAsync());
    }

    [Fact]
    public async Task The_newest_of_several_corrections_counts_whichever_arrived_last()
    {
        Site site = await OpenAsync();
        await site.Device.SendAsync(site.Device.Record(Some.Reading(99), id: "target"));
        SentEvent withdraw = site.Device.Record(Correct.Withdraw("target", Some.Reading()), Device.Began.AddDays(1));
        SentEvent replace = site.Device.Record(Correct.Replace("target", Some.Reading(9.5)), Device.Began.AddDays(2));

        await site.Device.SendAsync(replace);
        await service.CaughtUpAsync();
        await site.Device.SendAsync(withdraw);
        await service.CaughtUpAsync();

        Assert.Equal([9.5], await site.ReadingsAsync());
        Assert.Equal([9.5], await site.ListedAsync());
    }

    [Fact]
    public async Task An_office_corrects_what_a_crew_recorded()
    {
        Site site = await OpenAsync();
        Device office = await site.Organisation.AddDeviceAsync();
        SentEvent wrong = site.Device.Record(Some.Reading(99));
        await site.Device.SendAsync(wrong);

        await office.TellAsync(Correct.Withdraw(site.Device, wrong, Some.Reading()));
        await service.CaughtUpAsync();

        Assert.Empty(await site.ReadingsAsync());
    }

    [Fact]
    public async Task A_correction_that_names_another_type_counts_for_nothing_and_the_state_says_so()
    {
        Site site = await OpenAsync();
        await site.Device.SendAsync(site.Device.Record(Some.CablePulled(length: 25), id: "pull"));

        await site.TellAsync(Correct.Withdraw("pull", Some.BoxSealed()));

        CableView cable = await site.CableAsync();
        Assert.Equal(25, cable.LengthMetres);
        Assert.NotEmpty(cable.Contradictions);
    }

    [Fact]
    public async Task A_reading_that_was_moved_to_its_right_circuit_leaves_the_wrong_one()
    {
        Site site = await OpenAsync();
        await site.Device.SendAsync(site.Device.Record(Some.Reading(9.1)), site.Device.Record(Some.Reading(7.7), id: "misplaced"));
        await service.CaughtUpAsync();

        await site.TellAsync(Correct.Replace("misplaced", Some.Reading(7.7, "circuit-2")));

        Assert.Equal([9.1], await site.ReadingsAsync());
        Assert.Equal([9.1], await site.ListedAsync());
        Assert.Equal([7.7], await site.ReadingsAsync("circuit-2"));
        Assert.Equal([7.7], await site.ListedAsync("circuit-2"));
    }

    [Fact]
    public async Task A_cable_that_was_moved_to_its_right_duct_leaves_the_wrong_one()
    {
        Site site = await OpenAsync();
        await site.Device.SendAsync(
            site.Device.Record(Some.DuctLaid("duct-1")), site.Device.Record(Some.DuctLaid("duct-2")), site.Device.Record(Some.CablePulled(ducts: ["duct-1"]), id: "pull"));
        await service.CaughtUpAsync();
        Assert.Equal([Some.Cable], (await site.DuctAsync("duct-1")).CableIds);

        await site.TellAsync(Correct.Replace("pull", Some.CablePulled(ducts: ["duct-2"])));

        Assert.Empty((await site.DuctAsync("duct-1")).CableIds);
        Assert.Equal([Some.Cable], (await site.DuctAsync("duct-2")).CableIds);
    }

    [Fact]
    public async Task A_withdrawn_reading_of_the_newest_sixteen_is_followed_by_an_older_one()
    {
        Site site = await OpenAsync();
        await site.Device.SendAsync([.. Enumerable.Range(1, 30).Select(number => site.Device.Record(Some.Reading(number), id: $"r{number}"))]);
        await service.CaughtUpAsync();
        Assert.Equal(Newest(30, 16), await site.ReadingsAsync());

        await site.TellAsync(Correct.Withdraw("r30", Some.Reading()), Correct.Withdraw("r20", Some.Reading()));

        Assert.Equal(Newest(29, 18).Where(value => value != 20).Take(ReadingWindow.Size), await site.ReadingsAsync());
        Assert.Equal(Newest(29, 29).Where(value => value != 20), await site.ListedAsync());
    }

    [Fact]
    public async Task Withdrawing_all_of_the_newest_sixteen_brings_back_as_many_older_ones()
    {
        Site site = await OpenAsync();
        await site.Device.SendAsync([.. Enumerable.Range(1, 40).Select(number => site.Device.Record(Some.Reading(number), id: $"r{number}"))]);
        await service.CaughtUpAsync();

        await site.TellAsync([.. Enumerable.Range(25, 16).Select(number => Correct.Withdraw($"r{number}", Some.Reading()))]);

        Assert.Equal(Newest(24, 16), await site.ReadingsAsync());
    }

    [Fact]
    public async Task Withdrawing_an_old_reading_beyond_the_newest_sixteen_leaves_these_as_they_are()
    {
        Site site = await OpenAsync();
        await site.Device.SendAsync([.. Enumerable.Range(1, 30).Select(number => site.Device.Record(Some.Reading(number), id: $"r{number}"))]);
        await service.CaughtUpAsync();

        await site.TellAsync(Correct.Withdraw("r5", Some.Reading()));

        Assert.Equal(Newest(30, 16), await site.ReadingsAsync());
        Assert.Equal(Newest(30, 30).Where(value => value != 5), await site.ListedAsync());
    }

    [Fact]
    public async Task A_withdrawn_withdrawal_is_made_by_a_later_correction_of_the_same_fact()
    {
        Site site = await OpenAsync();
        await site.Device.SendAsync(site.Device.Record(Some.Reading(9.1), id: "right"));
        await site.TellAsync(Correct.Withdraw("right", Some.Reading()));
        Assert.Empty(await site.ReadingsAsync());

        await site.TellAsync(Correct.Replace("right", Some.Reading(9.1)));

        Assert.Equal([9.1], await site.ReadingsAsync());
    }

    private static IEnumerable<double> Newest(int from, int count) => Enumerable.Range(from - count + 1, count).Reverse().Select(number => (double)number);

    private async Task<Site> OpenAsync()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        return new Site(service, organisation, await organisation.AddDeviceAsync());
    }
}

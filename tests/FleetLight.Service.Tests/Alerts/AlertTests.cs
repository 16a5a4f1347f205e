using System.Net;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Rules;
using FleetLight.Service.Tests.Approvals;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Alerts;

public sealed class AlertTests(FleetService service) : IClassFixture<FleetService>
{
    private const string Rule = "ground-box-not-gel-filled";

    [Fact]
    public async Task An_alert_is_raised_with_its_reason_remedy_and_evidence()
    {
        Yard yard = await OpenAsync();

        await yard.TellAsync(Some.BoxSealed(gelFilled: false));

        AlertView alert = await yard.AlertAsync();
        Assert.Equal((AlertStanding.Raised, 1, Some.Site), (alert.Standing, alert.TimesRaised, alert.SiteId));
        Assert.Equal((Rule, new ThingRef(ThingKind.Box, Some.Box)), (alert.Finding.Rule, alert.Finding.Subject));
        Assert.Equal([$"{yard.Device.Source}#0001"], alert.Finding.Evidence);
        Assert.NotEmpty(alert.Finding.Reason);
        Assert.NotEmpty(alert.Finding.Remedy);
        Assert.Equivalent(alert, await yard.Office.ReadAsync<AlertView>($"/v1/alerts/{alert.Id}"), strict: true);
    }

    [Fact]
    public async Task One_cause_raises_one_alert_however_often_it_is_recorded()
    {
        Yard yard = await OpenAsync();

        await yard.TellAsync(Some.BoxSealed(gelFilled: false));
        await yard.TellAsync(Some.BoxSealed(gelFilled: false));
        await yard.TellAsync(Some.BoxSealed(gelFilled: false), Some.BoxSealed(gelFilled: false));

        Assert.Equal(1, (await yard.AlertAsync()).TimesRaised);
        Assert.Equal(1, await yard.CountAsync("fleetlight.alert.raised.v1"));
    }

    [Fact]
    public async Task More_that_is_known_of_a_cause_updates_its_alert()
    {
        Yard yard = await OpenAsync();
        await yard.TellAsync(Some.CircuitDesigned(), Some.CablePulled(), Some.Reading(12.4));
        AlertView before = await yard.AlertAsync("reading-outside");

        await yard.TellAsync(Some.Reading(12.9));

        AlertView after = await yard.AlertAsync("reading-outside");
        Assert.Equal((before.Id, 1, AlertStanding.Raised), (after.Id, after.TimesRaised, after.Standing));
        Assert.NotEqual(before.Finding.Reason, after.Finding.Reason);
        Assert.NotEqual(before.Finding.Evidence, after.Finding.Evidence);
        Assert.Equal(1, await yard.CountAsync("fleetlight.alert.updated.v1", "reading-outside"));
    }

    [Fact]
    public async Task The_fact_that_mends_the_cause_clears_the_alert()
    {
        Yard yard = await OpenAsync();
        await yard.TellAsync(Some.BoxSealed(gelFilled: false));

        await yard.TellAsync(Some.BoxSealed(gelFilled: true));

        AlertView alert = await yard.AlertAsync(standing: "cleared");
        Assert.Equal((AlertStanding.Cleared, 1), (alert.Standing, alert.TimesRaised));
        Assert.NotNull(alert.ClearedAt);
        Assert.Empty(await yard.AlertsAsync(Rule));
        Assert.Equal([$"{yard.Device.Source}#0002"], await service.QueryAsync<string>(
            "select jsonb_array_elements_text(data -> 'clearedBy') from fleetlight.mt_events where tenant_id = $1 and type = 'fleetlight.alert.cleared.v1'",
            yard.Organisation.Name));
    }

    [Fact]
    public async Task A_withdrawn_fact_clears_what_it_raised()
    {
        Yard yard = await OpenAsync();
        IFact wrong = Some.BoxSealed(gelFilled: false);
        await yard.Device.SendAsync(yard.Device.Record(wrong, id: "wrong"));
        await service.CaughtUpAsync();

        await yard.TellAsync(Correct.Withdraw("wrong", wrong));

        Assert.Equal(AlertStanding.Cleared, (await yard.AlertAsync(standing: "cleared")).Standing);
    }

    [Fact]
    public async Task A_cause_that_returns_raises_the_same_alert_again_and_it_is_nobodys_yet()
    {
        Yard yard = await OpenAsync();
        await yard.TellAsync(Some.BoxSealed(gelFilled: false));
        AlertView first = await yard.AlertAsync();
        await yard.AcknowledgeAsync(first.Id, "On Monday.");
        await yard.TellAsync(Some.BoxSealed(gelFilled: true));

        await yard.TellAsync(Some.BoxSealed(gelFilled: false));

        AlertView again = await yard.AlertAsync();
        Assert.Equal((first.Id, AlertStanding.Raised, 2), (again.Id, again.Standing, again.TimesRaised));
        Assert.Equal((null, null, null), (again.AcknowledgedBy, again.Note, again.ClearedAt));
    }

    [Fact]
    public async Task Somebody_takes_note_and_the_alert_stands_until_its_cause_has_gone()
    {
        Yard yard = await OpenAsync();
        await yard.TellAsync(Some.BoxSealed(gelFilled: false));
        AlertView raised = await yard.AlertAsync();

        AlertView noted = (await yard.AcknowledgeAsync(raised.Id, "  On Monday. ")).Expect(HttpStatusCode.OK).As<AlertView>();
        await service.CaughtUpAsync();

        Assert.Equal((AlertStanding.Acknowledged, "office", "On Monday."), (noted.Standing, noted.AcknowledgedBy, noted.Note));
        Assert.Equal(service.Clock.Now, noted.AcknowledgedAt);
        Assert.Equivalent(noted, await yard.AlertAsync(), strict: true);
        await yard.TellAsync(Some.BoxSealed(gelFilled: true));
        AlertView cleared = await yard.AlertAsync(standing: "cleared");
        Assert.Equal((AlertStanding.Cleared, "On Monday."), (cleared.Standing, cleared.Note));
    }

    [Fact]
    public async Task A_noted_alert_that_is_updated_stays_noted()
    {
        Yard yard = await OpenAsync();
        await yard.TellAsync(Some.CircuitDesigned(), Some.CablePulled(), Some.Reading(12.4));
        await yard.AcknowledgeAsync((await yard.AlertAsync("reading-outside")).Id, "Looking into it.");

        await yard.TellAsync(Some.Reading(12.9));

        Assert.Equal(AlertStanding.Acknowledged, (await yard.AlertAsync("reading-outside")).Standing);
    }

    [Fact]
    public async Task A_cleared_alert_is_not_noted_any_more()
    {
        Yard yard = await OpenAsync();
        await yard.TellAsync(Some.BoxSealed(gelFilled: false));
        string id = (await yard.AlertAsync()).Id;
        await yard.TellAsync(Some.BoxSealed(gelFilled: true));

        Approved.Same("Alerts", "cleared already", await yard.AcknowledgeAsync(id, "On Monday."));
    }

    [Fact]
    public async Task An_alert_that_was_never_raised_is_not_found()
    {
        Yard yard = await OpenAsync();

        Approved.Same("Alerts", "no such alert", await yard.Office.GetAsync("/v1/alerts/never"));
        Approved.Same("Alerts", "no such alert", await yard.AcknowledgeAsync("never", "On Monday."));
    }

    [Fact]
    public async Task Nothing_is_noted_without_a_note()
    {
        Yard yard = await OpenAsync();
        await yard.TellAsync(Some.BoxSealed(gelFilled: false));
        string id = (await yard.AlertAsync()).Id;

        Approved.Same("Alerts", "no note", await yard.AcknowledgeAsync(id, " "));

        await service.CaughtUpAsync();
        Assert.Equal(AlertStanding.Raised, (await yard.AlertAsync()).Standing);
    }

    [Fact]
    public async Task A_driver_at_its_limit_and_a_missing_reading_after_a_repair_are_told()
    {
        Yard yard = await OpenAsync();

        await yard.TellAsync(Some.CircuitDesigned(mostVolts: 9.9), Some.FaultReported(), Some.RepairMade());

        Assert.Single(await yard.AlertsAsync("driver-at-limit"));
        Assert.Single(await yard.AlertsAsync("no-reading-since-repair"));
        await yard.TellAsync(Some.Reading(9.3));
        Assert.Empty(await yard.AlertsAsync("no-reading-since-repair"));
    }

    [Fact]
    public async Task Two_causes_of_one_rule_on_one_thing_are_two_alerts()
    {
        Yard yard = await OpenAsync();
        await yard.TellAsync(Some.FaultReported("fault-1"), Some.FaultReported("fault-2"));
        Assert.Equal(2, (await yard.AlertsAsync("fault-open")).Count);

        await yard.TellAsync(Some.RepairMade("fault-1"));

        Assert.Equal("fault-2", Assert.Single(await yard.AlertsAsync("fault-open")).Finding.Cause);
    }

    [Fact]
    public async Task The_rules_are_listed_with_what_they_find_what_clears_them_and_their_source()
    {
        Yard yard = await OpenAsync();

        var rules = (await yard.Office.GetAsync("/v1/rules")).Json.AsArray();

        Assert.Equal(RuleBook.All.Select(rule => rule.Id), rules.Select(rule => (string?)rule!["id"]));
        Assert.All(rules, rule => Assert.All(
            (string[])["title", "severity", "finds", "clears", "source"], name => Assert.False(string.IsNullOrWhiteSpace((string?)rule![name]))));
    }

    private async Task<Yard> OpenAsync()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        return new Yard(service, organisation, await organisation.AddDeviceAsync());
    }

    private sealed record Yard(FleetService Service, Organisation Organisation, Device Device)
    {
        public ApiClient Office => Organisation.Office;

        public async Task TellAsync(params IFact[] facts)
        {
            await Device.TellAsync(facts);
            await Service.CaughtUpAsync();
        }

        public async Task<IReadOnlyList<AlertView>> AlertsAsync(string rule, string standing = "") =>
            (await Office.ReadAsync<Page<AlertView>>($"/v1/alerts?rule={rule}&standing={standing}")).Items;

        public async Task<AlertView> AlertAsync(string rule = Rule, string standing = "") => Assert.Single(await AlertsAsync(rule, standing));

        public Task<Answer> AcknowledgeAsync(string id, string note) => Office.PostAsync($"/v1/alerts/{id}/acknowledge", new { note });

        public async Task<long> CountAsync(string type, string rule = Rule) => Assert.Single(await Service.QueryAsync<long>(
            "select count(*) from fleetlight.mt_events where tenant_id = $1 and type = $2 and data -> 'finding' ->> 'rule' = $3", Organisation.Name, type, rule));
    }
}

using System.Net;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Intake;
using FleetLight.Service.Tests.Approvals;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Intake;

public sealed class RefusedTests(FleetService service) : IClassFixture<FleetService>
{
    [Fact]
    public async Task A_refused_fact_is_listed_as_it_was_sent_with_its_problem()
    {
        Refused refused = await RefuseAsync();

        RefusedFact aside = Assert.Single((await refused.Office.ReadAsync<Page<RefusedFact>>("/v1/refused")).Items);

        Assert.Equal(refused.Id, aside.Id);
        Assert.Equal((refused.Device.Source, refused.Bad.Id, refused.Bad.RunningNumber), (aside.Source, aside.FactId, aside.RunningNumber));
        Assert.Equal(refused.Bad.Text, aside.Text);
        Assert.Equal((ProblemTypes.DataInvalid, "data.lie"), (aside.Problem.Type, aside.Problem.Field));
        Assert.Equal((service.Clock.Now, RefusedState.Open), (aside.RefusedAt, aside.State));
        Assert.Equivalent(aside, await refused.Office.ReadAsync<RefusedFact>($"/v1/refused/{refused.Id}"), strict: true);
    }

    [Fact]
    public async Task A_mended_fact_is_recorded_as_its_devices_own_and_says_who_mended_it()
    {
        Refused refused = await RefuseAsync();

        BatchReceipt receipt = (await ResubmitAsync(refused, refused.Good.Text)).Expect(HttpStatusCode.OK).As<BatchReceipt>();

        EventOutcome outcome = Assert.Single(receipt.Outcomes);
        Assert.Equal((FactOutcome.Recorded, refused.Bad.Id), (outcome.Outcome, outcome.Id));
        Assert.Equal((refused.Device.Source, 1), (receipt.Receipt.Source, receipt.Receipt.CompleteThrough));
        RefusedFact aside = await refused.Office.ReadAsync<RefusedFact>($"/v1/refused/{refused.Id}");
        Assert.Equal((RefusedState.Mended, refused.OfficeKeyId, service.Clock.Now), (aside.State, aside.SettledBy, aside.SettledAt));
        Assert.Equal(refused.Bad.Text, aside.Text);
        JsonNode of = JsonNode.Parse(Assert.Single(await service.QueryAsync<string>(
            "select data ->> 'of' from fleetlight.mt_events where tenant_id = $1 and data ? 'of'", refused.Organisation.Name)))!;
        Assert.Equal((refused.Device.Source, refused.OfficeKeyId), ((string?)of["source"], (string?)of["mendedBy"]));
        await service.CaughtUpAsync();
        Assert.Equal("B1", (await refused.Office.ReadAsync<BoxView>($"/v1/boxes/{Some.Box}")).Label);
    }

    [Fact]
    public async Task A_mended_fact_keeps_the_time_at_which_it_happened()
    {
        Refused refused = await RefuseAsync();

        await ResubmitAsync(refused, refused.Good.Text);
        await service.CaughtUpAsync();

        BoxView box = await refused.Office.ReadAsync<BoxView>($"/v1/boxes/{Some.Box}");
        Assert.Equal(Device.Began.AddMinutes(1), box.SealedAt);
    }

    [Fact]
    public async Task Mended_facts_are_no_longer_listed_as_open()
    {
        Refused refused = await RefuseAsync();
        await ResubmitAsync(refused, refused.Good.Text);

        Assert.Empty((await refused.Office.ReadAsync<Page<RefusedFact>>("/v1/refused")).Items);
        Assert.Equal(refused.Id, Assert.Single((await refused.Office.ReadAsync<Page<RefusedFact>>("/v1/refused?state=mended")).Items).Id);
        Assert.Empty((await refused.Office.ReadAsync<Page<RefusedFact>>("/v1/refused?state=dismissed")).Items);
    }

    [Fact]
    public async Task A_fact_that_is_still_wrong_stays_open_and_says_what_is_wrong_now()
    {
        Refused refused = await RefuseAsync();
        SentEvent stillWrong = refused.Good.ChangeData(data => data["entry"] = "through-the-window");

        BatchReceipt receipt = (await ResubmitAsync(refused, stillWrong.Text)).Expect(HttpStatusCode.OK).As<BatchReceipt>();

        EventOutcome outcome = Assert.Single(receipt.Outcomes);
        Assert.Equal((FactOutcome.Refused, "data.entry", refused.Id), (outcome.Outcome, outcome.Problem!.Field, outcome.RefusedId));
        RefusedFact open = Assert.Single((await refused.Office.ReadAsync<Page<RefusedFact>>("/v1/refused")).Items);
        Assert.Equal((refused.Id, refused.Bad.Text), (open.Id, open.Text));
    }

    [Fact]
    public async Task A_mended_fact_of_another_source_is_not_taken_for_this_device()
    {
        Refused refused = await RefuseAsync();
        SentEvent others = refused.Good.Change(envelope => envelope["source"] = "urn:device:other");

        BatchReceipt receipt = (await ResubmitAsync(refused, others.Text)).Expect(HttpStatusCode.OK).As<BatchReceipt>();

        Assert.Equal(ProblemTypes.SourceNotYours, Assert.Single(receipt.Outcomes).Problem!.Type);
        Assert.Equal(RefusedState.Open, (await refused.Office.ReadAsync<RefusedFact>($"/v1/refused/{refused.Id}")).State);
    }

    [Fact]
    public async Task A_fact_that_the_device_mended_itself_meanwhile_is_settled_as_known()
    {
        Refused refused = await RefuseAsync();
        await refused.Device.SendAsync(refused.Good);

        BatchReceipt receipt = (await ResubmitAsync(refused, refused.Good.Text)).Expect(HttpStatusCode.OK).As<BatchReceipt>();

        Assert.Equal(FactOutcome.Duplicate, Assert.Single(receipt.Outcomes).Outcome);
        Assert.Equal(RefusedState.Mended, (await refused.Office.ReadAsync<RefusedFact>($"/v1/refused/{refused.Id}")).State);
    }

    [Fact]
    public async Task A_mended_fact_that_the_device_sends_again_as_it_was_does_not_come_back()
    {
        Refused refused = await RefuseAsync();
        await ResubmitAsync(refused, refused.Good.Text);

        BatchReceipt again = await refused.Device.SendAsync(refused.Bad);

        Assert.Equal(refused.Id, Assert.Single(again.Outcomes).RefusedId);
        Assert.Empty((await refused.Office.ReadAsync<Page<RefusedFact>>("/v1/refused")).Items);
    }

    [Fact]
    public async Task A_fact_can_be_dismissed_with_a_note()
    {
        Refused refused = await RefuseAsync();

        Answer answer = await refused.Office.PostAsync($"/v1/refused/{refused.Id}/dismiss", new { note = " Sent twice by mistake. " });

        RefusedFact aside = answer.Expect(HttpStatusCode.OK).As<RefusedFact>();
        Assert.Equal((RefusedState.Dismissed, "Sent twice by mistake."), (aside.State, aside.Note));
        Assert.Equal((refused.OfficeKeyId, service.Clock.Now), (aside.SettledBy, aside.SettledAt));
        Assert.Empty((await refused.Office.ReadAsync<Page<RefusedFact>>("/v1/refused")).Items);
    }

    [Theory]
    [InlineData("{}")]
    [InlineData("{\"note\":\"\"}")]
    [InlineData("{\"note\":\"   \"}")]
    [InlineData("{\"note\":null}")]
    [InlineData("{\"note\":5}")]
    [InlineData("{\"note\":\"so\",\"more\":1}")]
    [InlineData("not json")]
    [InlineData("")]
    public async Task Nothing_is_dismissed_without_a_note(string body)
    {
        Refused refused = await RefuseAsync();

        Answer answer = await refused.Office.PostAsync($"/v1/refused/{refused.Id}/dismiss", body, "application/json");

        Assert.Equal(HttpStatusCode.BadRequest, answer.Status);
        Assert.Contains(answer.As<Problem>().Type, (string[])[ProblemTypes.ParameterInvalid, ProblemTypes.BodyUnreadable]);
        Assert.Equal(RefusedState.Open, (await refused.Office.ReadAsync<RefusedFact>($"/v1/refused/{refused.Id}")).State);
    }

    [Fact]
    public async Task A_note_is_at_most_500_characters()
    {
        Refused refused = await RefuseAsync();

        Answer tooLong = await refused.Office.PostAsync($"/v1/refused/{refused.Id}/dismiss", new { note = new string('x', 501) });
        Answer taken = await refused.Office.PostAsync($"/v1/refused/{refused.Id}/dismiss", new { note = new string('x', 500) });

        Assert.Equal((HttpStatusCode.BadRequest, HttpStatusCode.OK), (tooLong.Status, taken.Status));
    }

    [Fact]
    public async Task What_is_settled_stays_settled()
    {
        Refused mended = await RefuseAsync();
        await ResubmitAsync(mended, mended.Good.Text);
        Refused dismissed = await RefuseAsync();
        await dismissed.Office.PostAsync($"/v1/refused/{dismissed.Id}/dismiss", new { note = "Not needed." });

        Approved.Same("Refused", "mended already", await ResubmitAsync(mended, mended.Good.Text));
        Approved.Same("Refused", "mended already", await mended.Office.PostAsync($"/v1/refused/{mended.Id}/dismiss", new { note = "No." }));
        Approved.Same("Refused", "dismissed already", await ResubmitAsync(dismissed, dismissed.Good.Text));
        Approved.Same("Refused", "dismissed already", await dismissed.Office.PostAsync($"/v1/refused/{dismissed.Id}/dismiss", new { note = "No." }));
    }

    [Fact]
    public async Task Another_organisation_sees_none_of_it_and_cannot_settle_it()
    {
        Refused refused = await RefuseAsync();
        Organisation other = await service.AddOrganisationAsync();

        Assert.Empty((await other.Office.ReadAsync<Page<RefusedFact>>("/v1/refused")).Items);
        Assert.Equal(HttpStatusCode.NotFound, (await other.Office.GetAsync($"/v1/refused/{refused.Id}")).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await other.Office.PostAsync($"/v1/refused/{refused.Id}/dismiss", new { note = "Mine." })).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await other.Office.PostAsync(
            $"/v1/refused/{refused.Id}/resubmit", refused.Good.Text, Envelope.SingleMediaType)).Status);
        Assert.Equal(RefusedState.Open, (await refused.Office.ReadAsync<RefusedFact>($"/v1/refused/{refused.Id}")).State);
    }

    [Fact]
    public async Task The_list_comes_in_pages_each_fact_once()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        SentEvent[] bad = [.. Enumerable.Range(0, 7).Select(_ => device.Record(Some.BoxSealed()).ChangeData(data => data.Remove("lie")))];
        await device.SendAsync(bad);

        List<RefusedFact> listed = await Pages.AllAsync<RefusedFact>(organisation.Office, "/v1/refused?limit=3", expectedPages: 3);

        Assert.Equal(bad.Select(each => each.Id), listed.Select(each => each.FactId!).Order());
    }

    [Fact]
    public async Task An_unknown_state_is_told_the_words_that_are_taken()
    {
        Organisation organisation = await service.AddOrganisationAsync();

        Approved.Same("Refused", "an unknown state", await organisation.Office.GetAsync("/v1/refused?state=lost"));
    }

    private async Task<Refused> RefuseAsync()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        SentEvent good = device.Record(Some.BoxSealed());
        SentEvent bad = good.ChangeData(data => data.Remove("lie"));
        BatchReceipt receipt = await device.SendAsync(bad);
        return new Refused(organisation, device, good, bad, Assert.Single(receipt.Outcomes).RefusedId!);
    }

    private static Task<Answer> ResubmitAsync(Refused refused, string text) =>
        refused.Office.PostAsync($"/v1/refused/{refused.Id}/resubmit", text, Envelope.SingleMediaType);

    private sealed record Refused(Organisation Organisation, Device Device, SentEvent Good, SentEvent Bad, string Id)
    {
        public ApiClient Office => Organisation.Office;

        public string OfficeKeyId => Office.Key!.Split('.')[0];
    }
}

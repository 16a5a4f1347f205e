using System.Net;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Service.Tests.Works;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Visits;

/// <summary>Visits: planned by the office, read by whoever goes, and what they say of their alerts.</summary>
public sealed class VisitTests(FleetService service) : IClassFixture<FleetService>
{
    [Fact]
    public async Task A_visit_is_planned_for_alerts_which_show_it_and_what_to_take_along()
    {
        (Site site, AlertView alert) = await WithAlertAsync();

        Answer made = await PlanAsync(site, new { day = "2041-06-03", siteId = Some.Site, crew = "Birch", alertIds = (string[])[alert.Id], note = "Ring first." });
        await service.CaughtUpAsync();

        Assert.Equal(HttpStatusCode.Created, made.Status);
        VisitView visit = made.As<VisitView>();
        Assert.Equal((1, VisitState.Planned, new DateOnly(2041, 6, 3), "Birch"), (visit.Version, visit.State, visit.Day, visit.Crew));
        Assert.Equal("office", visit.PlannedBy);
        Assert.Equal(service.Clock.Now, visit.PlannedAt);
        AlertView shown = await site.Organisation.Office.ReadAsync<AlertView>($"/v1/alerts/{alert.Id}");
        Assert.Equal((visit.Id, visit.Day), (shown.VisitId, shown.VisitDay));
        Assert.Equal(visit.Id, Assert.Single((await site.Organisation.Office.ReadAsync<Page<AlertView>>("/v1/alerts?rule=ground-box-not-gel-filled")).Items).VisitId);

        VisitView read = await ReadAsync(site, visit.Id);
        VisitAlert line = Assert.Single(read.Alerts!);
        Assert.Equal((AlertStanding.Raised, "ground-box-not-gel-filled"), (line.Standing, line.Finding!.Rule));
        TakeAlongLine gel = Assert.Single(read.TakeAlong!.Lines, each => each.Item == TakeAlongItem.Gel);
        Assert.Equal(1, gel.Pieces);
        Assert.Equal(alert.Id, Assert.Single(gel.Why).AlertId);
        Assert.NotEmpty(read.TakeAlong.Cautions);
    }

    [Fact]
    public async Task What_explains_a_reading_says_what_to_take_along()
    {
        Site site = await OpenAsync();
        await site.TellAsync(Some.CircuitDesigned(), Some.CablePulled(), Some.Reading(12.6));
        AlertView alert = Assert.Single((await site.Organisation.Office.ReadAsync<Page<AlertView>>("/v1/alerts?rule=reading-outside")).Items);
        CircuitView circuit = await site.CircuitAsync();
        Assert.NotEmpty(circuit.Explanations);

        VisitView visit = (await PlanAsync(site, new { day = "2041-06-03", siteId = Some.Site, alertIds = (string[])[alert.Id] })).As<VisitView>();

        TakeAlongView along = (await ReadAsync(site, visit.Id)).TakeAlong!;
        Assert.Contains(along.Lines, line => line.Item == TakeAlongItem.Meter);
        string lead = circuit.Explanations[0].Says;
        Assert.Contains(along.Lines.SelectMany(line => line.Why).Select(why => why.Says).Concat(along.Open), says => says.Contains(lead, StringComparison.Ordinal));
    }

    [Fact]
    public async Task An_alert_that_clears_by_itself_shows_so_in_its_visit_and_the_feed_tells_of_the_visit()
    {
        (Site site, AlertView alert) = await WithAlertAsync();
        VisitView visit = (await PlanAsync(site, new { day = "2041-06-03", siteId = Some.Site, alertIds = (string[])[alert.Id] })).As<VisitView>();
        await service.CaughtUpAsync();
        string cursor = (await site.Organisation.Office.ReadAsync<Page<ChangeView>>("/v1/changes?limit=1000")).Next!;

        await site.TellAsync(Some.BoxSealed(gelFilled: true));
        Page<ChangeView> changes = await Eventually.ReadAsync(
            () => site.Organisation.Office.ReadAsync<Page<ChangeView>>($"/v1/changes?after={cursor}"),
            page => page.Items.Any(change => change.Kind == "visit"), "the visit to be told of");

        Assert.Equal(visit.Id, changes.Items.First(change => change.Kind == "visit").Id);
        VisitView read = await ReadAsync(site, visit.Id);
        AlertView cleared = await site.Organisation.Office.ReadAsync<AlertView>($"/v1/alerts/{alert.Id}");
        Assert.Equal((AlertStanding.Cleared, cleared.ClearedAt), (read.Alerts![0].Standing, read.Alerts[0].ClearedAt));
        Assert.NotNull(cleared.ClearedAt);
        Assert.Equal(VisitState.Planned, read.State);
        Assert.Empty(read.TakeAlong!.Lines);
    }

    [Fact]
    public async Task A_change_is_made_from_the_newest_version_only()
    {
        (Site site, AlertView alert) = await WithAlertAsync();
        VisitView visit = (await PlanAsync(site, new { day = "2041-06-03", siteId = Some.Site, alertIds = (string[])[alert.Id], note = "Ring first." })).As<VisitView>();

        Answer changed = await ChangeAsync(site, visit.Id, new { day = "2041-06-05", crew = "Amber", version = 1 });
        Answer late = await ChangeAsync(site, visit.Id, new { day = "2041-06-06", version = 1 });
        Answer unsaid = await ChangeAsync(site, visit.Id, new { day = "2041-06-06" });
        Answer matched = await ChangeAsync(site, visit.Id, new { day = "2041-06-07" }, ("If-Match", "\"2\""));
        await service.CaughtUpAsync();

        Assert.Equal((2, 5, "Amber"), (changed.As<VisitView>().Version, changed.As<VisitView>().Day.Day, changed.As<VisitView>().Crew));
        // What is absent is taken away.
        Assert.Equal((null, 0), (changed.As<VisitView>().Note, changed.As<VisitView>().AlertIds.Count));
        Assert.Equal("\"2\"", changed.Headers.ETag!.Tag);
        AssertConflict(late);
        AssertConflict(unsaid);
        Assert.Equal((3, 7), (matched.As<VisitView>().Version, matched.As<VisitView>().Day.Day));
        Assert.Null((await site.Organisation.Office.ReadAsync<AlertView>($"/v1/alerts/{alert.Id}")).VisitId);
    }

    [Fact]
    public async Task Of_two_changes_at_the_same_moment_one_is_made()
    {
        Site site = await OpenAsync();
        VisitView visit = (await PlanAsync(site, new { day = "2041-06-03", siteId = Some.Site })).As<VisitView>();

        Answer[] all = await Task.WhenAll(Enumerable.Range(1, 8).Select(day => ChangeAsync(site, visit.Id, new { day = $"2041-07-0{day}", version = 1 })));

        Assert.Single(all, answer => answer.Status == HttpStatusCode.OK);
        Assert.Equal(7, all.Count(answer => answer.Status == HttpStatusCode.Conflict));
        Assert.Equal(2, (await ReadAsync(site, visit.Id)).Version);
    }

    [Fact]
    public async Task A_visit_that_was_made_or_called_off_is_kept_and_its_alerts_are_without_one()
    {
        (Site site, AlertView alert) = await WithAlertAsync();
        string[] alertIds = [alert.Id];
        VisitView made = (await PlanAsync(site, new { day = "2041-06-03", siteId = Some.Site, alertIds })).As<VisitView>();
        VisitView off = (await PlanAsync(site, new { day = "2041-06-02", siteId = Some.Site, alertIds })).As<VisitView>();
        await service.CaughtUpAsync();
        // The sooner one is shown.
        Assert.Equal(off.Id, (await site.Organisation.Office.ReadAsync<AlertView>($"/v1/alerts/{alert.Id}")).VisitId);

        Answer calledOff = await site.Organisation.Office.DeleteAsync($"/v1/visits/{off.Id}");
        Answer done = await site.Organisation.Office.PostAsync($"/v1/visits/{made.Id}/done", new { note = "The gel was out." });
        await service.CaughtUpAsync();

        Assert.Equal(VisitState.CalledOff, calledOff.As<VisitView>().State);
        Assert.Equal((VisitState.Done, "office", "The gel was out."), (done.As<VisitView>().State, done.As<VisitView>().EndedBy, done.As<VisitView>().EndNote));
        Assert.Null((await site.Organisation.Office.ReadAsync<AlertView>($"/v1/alerts/{alert.Id}")).VisitId);
        Assert.Equal(HttpStatusCode.OK, (await site.Organisation.Office.PostAsync($"/v1/visits/{made.Id}/done")).Status);
        AssertConflict(await site.Organisation.Office.DeleteAsync($"/v1/visits/{made.Id}"));
        AssertConflict(await ChangeAsync(site, made.Id, new { day = "2041-06-05", version = 2 }));
        Assert.Equal([off.Id], await IdsAsync(site.Organisation.Office, "state=called-off"));
        Assert.Equal([made.Id], await IdsAsync(site.Organisation.Office, "state=done"));
        Assert.Null((await ReadAsync(site, made.Id)).TakeAlong);
    }

    [Fact]
    public async Task Visits_are_listed_by_day_page_by_page_and_filtered()
    {
        Site site = await OpenAsync();
        List<string> ids = [];
        foreach (int day in (int[])[4, 2, 3, 2])
            ids.Add((await PlanAsync(site, new { day = $"2041-06-0{day}", siteId = ids.Count == 3 ? "site-2" : Some.Site })).As<VisitView>().Id);
        await service.CaughtUpAsync();

        List<VisitView> all = await Pages.AllAsync<VisitView>(site.Organisation.Office, "/v1/visits?limit=1", 4);
        Assert.Equal([2, 2, 3, 4], all.Select(visit => visit.Day.Day));
        Assert.Equal(4, all.Select(visit => visit.Id).Distinct().Count());
        Assert.Equal([ids[2]], await IdsAsync(site.Organisation.Office, "day=2041-06-03"));
        Assert.Equal([ids[2], ids[0]], await IdsAsync(site.Organisation.Office, "from=2041-06-03&to=2041-06-04"));
        Assert.Equal([ids[3]], await IdsAsync(site.Organisation.Office, "site=site-2"));
        Assert.Empty(await IdsAsync(site.Organisation.Office, "day=2041-06-03&from=2041-06-04"));
    }

    [Fact]
    public async Task A_device_sees_its_own_visits_and_those_for_nobody_and_may_say_that_they_were_made()
    {
        Site site = await OpenAsync();
        (ApiClient van, string source) = await DeviceAsync(site.Organisation, "device");
        (ApiClient other, string otherSource) = await DeviceAsync(site.Organisation, "device");
        (ApiClient lead, _) = await DeviceAsync(site.Organisation, "crew-lead");
        string own = await PlannedAsync(site, source), others = await PlannedAsync(site, otherSource), anybodys = await PlannedAsync(site, null);
        await service.CaughtUpAsync();

        Assert.Equal([own, anybodys], Sorted(await IdsAsync(van, ""), own, anybodys));
        Assert.Equal([anybodys, others], Sorted(await IdsAsync(other, ""), anybodys, others));
        Assert.Equal(3, (await IdsAsync(lead, "")).Length);
        Assert.Equal([own], await IdsAsync(lead, $"source={Uri.EscapeDataString(source)}"));
        Assert.Equal(HttpStatusCode.NotFound, (await van.GetAsync($"/v1/visits/{others}")).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await van.PostAsync($"/v1/visits/{others}/done")).Status);
        Assert.Equal(HttpStatusCode.OK, (await van.PostAsync($"/v1/visits/{own}/done")).Status);
        foreach (ApiClient crew in (ApiClient[])[van, lead])
        {
            Assert.Equal(HttpStatusCode.Forbidden, (await crew.PostAsync("/v1/visits", new { day = "2041-06-03", siteId = Some.Site })).Status);
            Assert.Equal(HttpStatusCode.Forbidden, (await crew.PutAsync($"/v1/visits/{anybodys}", new { day = "2041-06-03", version = 1 })).Status);
            Assert.Equal(HttpStatusCode.Forbidden, (await crew.DeleteAsync($"/v1/visits/{anybodys}")).Status);
        }

        // Reading is not saying that it was made.
        ApiClient reader = site.Organisation.Office.With(await site.Organisation.MakeKeyAsync("read-as-built"));
        Assert.Equal(HttpStatusCode.OK, (await reader.GetAsync($"/v1/visits/{anybodys}")).Status);
        Assert.Equal(HttpStatusCode.Forbidden, (await reader.PostAsync($"/v1/visits/{anybodys}/done")).Status);
    }

    [Theory]
    [InlineData("{\"siteId\":\"site-1\"}")]
    [InlineData("{\"day\":\"tomorrow\",\"siteId\":\"site-1\"}")]
    [InlineData("{\"day\":\"1999-12-31\",\"siteId\":\"site-1\"}")]
    [InlineData("{\"day\":\"2041-06-03\",\"siteId\":\"no id\"}")]
    [InlineData("{\"day\":\"2041-06-03\",\"siteId\":\"site-1\",\"alertIds\":[\"none\"]}")]
    [InlineData("{\"day\":\"2041-06-03\",\"siteId\":\"site-1\",\"source\":\"urn:none\"}")]
    [InlineData("{\"day\":\"2041-06-03\",\"siteId\":\"site-1\",\"note\":\"\"}")]
    [InlineData("{\"day\":\"2041-06-03\",\"siteId\":\"site-1\",\"more\":1}")]
    [InlineData("[]")]
    public async Task A_plan_that_cannot_be_is_refused(string body)
    {
        Site site = await OpenAsync();

        Answer refused = await site.Organisation.Office.PostAsync("/v1/visits", body, "application/json");

        Assert.Equal((HttpStatusCode.BadRequest, ProblemMedia.Type), (refused.Status, refused.MediaType));
        Assert.Empty(await IdsAsync(site.Organisation.Office, ""));
    }

    [Fact]
    public async Task An_alert_of_another_site_is_not_seen_to()
    {
        (Site site, AlertView alert) = await WithAlertAsync();

        Answer refused = await PlanAsync(site, new { day = "2041-06-03", siteId = "site-2", alertIds = (string[])[alert.Id] });

        Assert.Equal("alertIds", refused.Expect(HttpStatusCode.BadRequest).As<Problem>().Field);
    }

    [Fact]
    public async Task Who_planned_changed_and_ended_visits_is_kept_with_the_other_acts_and_told_in_the_feed()
    {
        Site site = await OpenAsync();
        VisitView visit = (await PlanAsync(site, new { day = "2041-06-03", siteId = Some.Site })).As<VisitView>();
        await ChangeAsync(site, visit.Id, new { day = "2041-06-04", version = 1 });
        await site.Organisation.Office.DeleteAsync($"/v1/visits/{visit.Id}");
        await service.CaughtUpAsync();

        string acts = (await site.Organisation.Office.GetAsync("/v1/audit")).Text;
        Assert.All((string[])["visit-planned", "visit-changed", "visit-called-off"], act => Assert.Contains($"\"act\":\"{act}\"", acts, StringComparison.Ordinal));
        Page<ChangeView> changes = await site.Organisation.Office.ReadAsync<Page<ChangeView>>("/v1/changes?limit=1000");
        Assert.All(changes.Items.Where(change => change.Kind == "visit"), change => Assert.Equal((visit.Id, Some.Site), (change.Id, change.SiteId)));
        Assert.Contains(changes.Items, change => change.Kind == "visit");
    }

    private static async Task<string> PlannedAsync(Site site, string? source) =>
        (await PlanAsync(site, new { day = "2041-06-03", siteId = Some.Site, source })).Expect(HttpStatusCode.Created).As<VisitView>().Id;

    private static Task<Answer> PlanAsync(Site site, object plan) => site.Organisation.Office.PostAsync("/v1/visits", plan);

    private static Task<Answer> ChangeAsync(Site site, string id, object plan, params (string Name, string Value)[] headers) =>
        site.Organisation.Office.PutAsync($"/v1/visits/{id}", plan, headers);

    private static Task<VisitView> ReadAsync(Site site, string id) => site.Organisation.Office.ReadAsync<VisitView>($"/v1/visits/{id}");

    private static async Task<string[]> IdsAsync(ApiClient api, string query) =>
        [.. (await api.ReadAsync<Page<VisitView>>($"/v1/visits?{query}")).Items.Select(visit => visit.Id)];

    // In the order of the wanted ones, for ids are made by chance.
    private static IEnumerable<string> Sorted(string[] found, params string[] wanted) => found.OrderBy(id => Array.IndexOf(wanted, id));

    private static async Task<(ApiClient Api, string Source)> DeviceAsync(Organisation organisation, string role)
    {
        string source = $"urn:device:{Guid.NewGuid()}";
        return (organisation.Office.With((string)(await organisation.Office.PostAsync("/v1/keys", new { name = role, role, source })).Json["key"]!), source);
    }

    private static void AssertConflict(Answer answer) =>
        Assert.Equal(ProblemTypes.Conflict, answer.Expect(HttpStatusCode.Conflict).As<Problem>().Type);

    private async Task<(Site Site, AlertView Alert)> WithAlertAsync()
    {
        Site site = await OpenAsync();
        await site.TellAsync(Some.BoxSealed(gelFilled: false));
        AlertView alert = Assert.Single((await site.Organisation.Office.ReadAsync<Page<AlertView>>("/v1/alerts?rule=ground-box-not-gel-filled")).Items);
        return (site, alert);
    }

    private async Task<Site> OpenAsync()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Site site = new(service, organisation, await organisation.AddDeviceAsync());
        await site.TellAsync(Some.SiteOpened());
        return site;
    }
}

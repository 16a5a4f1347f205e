using System.Net;
using System.Security.Cryptography;
using System.Text;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Planning;

/// <summary>Handover packs as the service gives them.</summary>
public sealed class HandoverTests(PlanningTests.Planned planned) : IClassFixture<PlanningTests.Planned>
{
    private const string Path = $"/v1/sites/{Some.Site}/handover";

    [Fact]
    public async Task It_comes_as_a_document_a_page_and_as_data()
    {
        Answer pdf = await planned.Office.GetAsync(Path);
        Answer letter = await planned.Office.GetAsync($"{Path}?paper=letter");
        Answer html = await planned.Office.GetAsync($"{Path}?format=html");
        HandoverPack pack = await planned.Office.ReadAsync<HandoverPack>($"{Path}?format=json");

        Assert.Equal(("application/pdf", "text/html"), (pdf.MediaType, html.MediaType));
        Assert.Equal("%PDF-", Encoding.ASCII.GetString(pdf.Body, 0, 5));
        Assert.Matches(@"/MediaBox\s*\[\s*0 0 612 792\s*\]", Encoding.Latin1.GetString(letter.Body));
        Assert.StartsWith("<!DOCTYPE html>", html.Text, StringComparison.Ordinal);
        Assert.Equal(Some.Site, pack.SiteId);
        CircuitView state = await planned.Office.ReadAsync<CircuitView>($"/v1/circuits/{Some.Circuit}");
        HandoverCircuit circuit = Assert.Single(pack.Circuits);
        Assert.Equal((state.Phase, state.Verdict), (circuit.State.Phase, circuit.State.Verdict));
        Assert.Equal(state.Fittings.Count, circuit.State.Fittings.Count);
    }

    [Fact]
    public async Task The_digest_is_over_the_facts_of_the_site_and_stays_while_others_come()
    {
        Organisation organisation = await planned.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        await device.TellAsync(Some.SiteOpened(), Some.DuctLaid());
        await planned.CaughtUpAsync();
        HandoverPack before = await organisation.Office.ReadAsync<HandoverPack>($"{Path}?format=json");
        Answer list = await organisation.Office.GetAsync($"{Path}?format=facts");
        FactPage facts = await organisation.Office.ReadAsync<FactPage>($"/v1/facts?site={Some.Site}");

        Assert.Equal(before.Digest.Sha256, Convert.ToHexStringLower(SHA256.HashData(list.Body)));
        Assert.Equal(facts.Items.Select(fact => fact.Fact).Order(StringComparer.Ordinal), before.Digest.Facts.Select(fact => fact.Fact));
        planned.Clock.Advance(TimeSpan.FromSeconds(1));
        await device.TellAsync(Some.BoxSealed());
        await planned.CaughtUpAsync();
        HandoverPack after = await organisation.Office.ReadAsync<HandoverPack>($"{Path}?format=json");
        HandoverPack again = await organisation.Office.ReadAsync<HandoverPack>($"{Path}?format=json&knownBy={Uri.EscapeDataString(before.Digest.KnownBy!.Value.ToString("O"))}");
        Assert.NotEqual(before.Digest.Sha256, after.Digest.Sha256);
        Assert.Equal(before.Digest.Sha256, again.Digest.Sha256);
        Assert.Empty(again.Boxes);
    }

    [Fact]
    public async Task A_fact_that_is_altered_in_the_store_shows()
    {
        Organisation organisation = await planned.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        await device.TellAsync(Some.SiteOpened(), Some.DuctLaid());
        await planned.CaughtUpAsync();
        HandoverPack before = await organisation.Office.ReadAsync<HandoverPack>($"{Path}?format=json");
        await planned.QueryAsync<int>(
            "with changed as (update fleetlight.mt_events set data = jsonb_set(data::jsonb, '{data,lengthMetres}', '33.5') "
            + "where tenant_id = $1 and type = 'fleetlight.duct.laid.v1' returning 1) select count(*)::int from changed",
            organisation.Name);
        HandoverPack after = await organisation.Office.ReadAsync<HandoverPack>($"{Path}?format=json");

        Assert.NotEqual(before.Digest.Sha256, after.Digest.Sha256);
        Assert.Single(before.Digest.Facts.Except(after.Digest.Facts));
    }

    [Fact]
    public async Task What_was_noted_of_an_alert_stands_in_the_pack_from_then_on()
    {
        Organisation organisation = await planned.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        await device.TellAsync(Some.SiteOpened(), Some.BoxSealed(gelFilled: false));
        await planned.CaughtUpAsync();
        AlertView alert = (await organisation.Office.ReadAsync<Page<AlertView>>("/v1/alerts?rule=ground-box-not-gel-filled")).Items.Single();
        string before = Uri.EscapeDataString(planned.Clock.GetUtcNow().ToString("O"));
        planned.Clock.Advance(TimeSpan.FromSeconds(1));
        foreach (string note in (string[])["Gel is ordered.", "Gel has come."])
            (await organisation.Office.PostAsync($"/v1/alerts/{alert.Id}/acknowledge", new { note })).Expect(HttpStatusCode.OK);
        await planned.CaughtUpAsync();

        HandoverPack pack = await organisation.Office.ReadAsync<HandoverPack>($"{Path}?format=json");
        Assert.Equal(["Gel is ordered.", "Gel has come."], pack.Notes.Select(note => note.Says));
        Assert.All(pack.Notes, note => Assert.Equal((alert.Finding.Rule, alert.Finding.Subject, planned.Clock.GetUtcNow()), (note.Rule, note.Subject, note.At)));
        Assert.Contains("Gel has come.", (await organisation.Office.GetAsync($"{Path}?format=html")).Text, StringComparison.Ordinal);
        Assert.Empty((await organisation.Office.ReadAsync<HandoverPack>($"{Path}?format=json&knownBy={before}")).Notes);
        Assert.Empty((await planned.Office.ReadAsync<HandoverPack>($"{Path}?format=json")).Notes);
    }

    [Fact]
    public async Task Another_organisation_has_no_such_site()
    {
        Organisation other = await planned.AddOrganisationAsync();

        Assert.Equal(HttpStatusCode.NotFound, (await other.Office.GetAsync(Path)).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await planned.Office.GetAsync("/v1/sites/nowhere/handover")).Status);
    }

    [Theory]
    [InlineData("format=doc", "format")]
    [InlineData("paper=a3", "paper")]
    [InlineData("asOf=yesterday", "asOf")]
    [InlineData("knownBy=x", "knownBy")]
    [InlineData("offsetMinutes=900", "offsetMinutes")]
    [InlineData("lookMonths=0", "lookMonths")]
    [InlineData("mainsMonths=241", "mainsMonths")]
    public async Task A_parameter_that_is_wrong_is_named(string query, string parameter)
    {
        Answer answer = await planned.Office.GetAsync($"{Path}?{query}");

        Assert.Equal((HttpStatusCode.BadRequest, parameter), (answer.Status, answer.As<Problem>().Field));
    }
}

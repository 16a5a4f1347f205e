using System.Net;
using System.Text;
using System.Text.Json;
using System.Xml.Linq;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Planning;

/// <summary>Open points, designs as files, materials and labels, as the service gives them.</summary>
public sealed class PlanningTests(PlanningTests.Planned planned) : IClassFixture<PlanningTests.Planned>
{
    [Fact]
    public async Task Open_points_are_listed_and_what_they_offer_is_taken_and_takes_them_off()
    {
        Organisation organisation = await planned.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        await device.TellAsync(Some.SiteOpened(), Some.DuctLaid(), Some.BoxSealed(gelFilled: false));
        await planned.CaughtUpAsync();
        string path = $"/v1/sites/{Some.Site}/open-points";
        OpenPointsView open = await organisation.Office.ReadAsync<OpenPointsView>(path);
        Assert.Contains(open.Points, point => point.Rules.Contains("ground-box-not-gel-filled"));

        // The data is handed in as it came, as a page would.
        foreach (OpenPoint point in open.Points.Where(point => point.TicksOff.Count > 0 && point.TicksOff[0].Asks.Count == 0))
        {
            TickOff tick = point.TicksOff[0];
            IFact fact = (IFact)tick.Data.Deserialize(FactTypes.Find(tick.Type)!, WireJson.Strict)!;
            await device.TellAsync(fact);
        }

        await planned.CaughtUpAsync();
        OpenPointsView left = await organisation.Office.ReadAsync<OpenPointsView>(path);
        Assert.DoesNotContain(left.Points, point => open.Points.Any(before => before.Key == point.Key && before.TicksOff.Count > 0));
    }

    [Fact]
    public async Task A_phase_lists_what_is_due_by_then()
    {
        OpenPointsView all = await planned.Office.ReadAsync<OpenPointsView>($"/v1/sites/{Some.Site}/open-points");
        OpenPointsView due = await planned.Office.ReadAsync<OpenPointsView>($"/v1/sites/{Some.Site}/open-points?phase=before-cover");

        Assert.Equal(WorkPhase.BeforeCover, due.Phase);
        Assert.Equal(all.Points.Where(point => point.Phase == WorkPhase.BeforeCover).Select(point => point.Key), due.Points.Select(point => point.Key));
        Assert.NotEqual(all.Points.Count, due.Points.Count);
    }

    [Fact]
    public async Task The_design_comes_as_it_was_recorded_and_its_table_is_read_again()
    {
        string recorded = JsonSerializer.Serialize(Some.CircuitDesigned(), WireJson.Strict);
        Answer json = await planned.Office.GetAsync($"/v1/circuits/{Some.Circuit}/design");
        Answer table = await planned.Office.GetAsync($"/v1/circuits/{Some.Circuit}/design?format=csv");

        Assert.Equal(recorded, JsonSerializer.Serialize(json.As<CircuitDesigned>(), WireJson.Strict));
        Assert.Equal("text/csv", table.MediaType);
        Assert.Equal(Encoding.UTF8.GetPreamble(), table.Body.AsSpan(0, 3).ToArray());
        DesignsRead read = (await ReadAsync(table.Body, "text/csv")).As<DesignsRead>();
        Assert.Empty(read.Problems);
        Assert.Equal(recorded, JsonSerializer.Serialize(Assert.Single(read.Designs), WireJson.Strict));
        Answer site = await planned.Office.GetAsync($"/v1/sites/{Some.Site}/designs?format=csv");
        Assert.Equal(table.Text, site.Text);
        Assert.Equal(recorded, JsonSerializer.Serialize(Assert.Single((await planned.Office.GetAsync($"/v1/sites/{Some.Site}/designs")).As<CircuitDesigned[]>()), WireJson.Strict));
        Answer again = await ReadAsync(json.Body, "application/json");
        Assert.Equal(recorded, JsonSerializer.Serialize(Assert.Single(again.As<DesignsRead>().Designs), WireJson.Strict));
    }

    [Fact]
    public async Task Mistakes_are_answered_with_their_cells()
    {
        Answer answer = await ReadAsync("Row,Circuit\ncircuit,k1\nlamp,k1\n"u8.ToArray(), "text/csv; charset=utf-8");

        Assert.Equal(HttpStatusCode.OK, answer.Status);
        Assert.Contains(answer.As<DesignsRead>().Problems, problem => problem is { Row: 3, Column: "Row" });
        Assert.Equal(HttpStatusCode.UnsupportedMediaType, (await ReadAsync("x"u8.ToArray(), "text/plain")).Status);
    }

    [Fact]
    public async Task A_circuit_without_a_design_says_so()
    {
        Organisation organisation = await planned.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        await device.TellAsync(Some.DriverConnected());
        await planned.CaughtUpAsync();

        Assert.Equal(HttpStatusCode.Conflict, (await organisation.Office.GetAsync($"/v1/circuits/{Some.Circuit}/design")).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await organisation.Office.GetAsync("/v1/circuits/nowhere/design")).Status);
        MaterialsView materials = await organisation.Office.ReadAsync<MaterialsView>($"/v1/circuits/{Some.Circuit}/materials");
        Assert.Contains(Some.Circuit, Assert.Single(materials.Missing), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Materials_follow_what_is_taken_for_granted()
    {
        string path = $"/v1/circuits/{Some.Circuit}/materials";
        MaterialsView usual = await planned.Office.ReadAsync<MaterialsView>(path);
        MaterialsView more = await planned.Office.ReadAsync<MaterialsView>($"{path}?allowancePercent=100&endMetres=0");
        Answer table = await planned.Office.GetAsync($"/v1/sites/{Some.Site}/materials?format=csv");

        Assert.Equal([Some.Circuit], usual.CircuitIds);
        Assert.All(more.Cuts, cut => Assert.Equal(2 * cut.DesignedMetres, cut.CutMetres, 6));
        Assert.All(usual.Cuts, cut => Assert.InRange(cut.CutMetres, (cut.DesignedMetres * 1.05) + 0.99, (cut.DesignedMetres * 1.05) + 1.02));
        Assert.Equal("text/csv", table.MediaType);
        Assert.Contains("Needed (m)", table.Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("circuits/circuit-1/materials?allowancePercent=101", "allowancePercent")]
    [InlineData("circuits/circuit-1/materials?reelMetres=0", "reelMetres")]
    [InlineData("circuits/circuit-1/materials?format=pdf", "format")]
    [InlineData("circuits/circuit-1/design?format=x", "format")]
    [InlineData("sites/site-1/open-points?phase=cabled", "phase")]
    [InlineData("sites/site-1/labels?tapeMillimetres=1", "tapeMillimetres")]
    [InlineData("sites/site-1/labels?tapeMillimetres=NaN", "tapeMillimetres")]
    [InlineData("sites/site-1/labels?kinds=duct,lamp", "kinds")]
    [InlineData("sites/site-1/labels?things=duct-1", "things")]
    [InlineData("sites/site-1/labels?things=duct:other", "things")]
    [InlineData("sites/site-1/labels?page=99", "page")]
    [InlineData("sites/site-1/labels?paper=a3", "paper")]
    public async Task A_parameter_that_is_wrong_is_named(string path, string parameter)
    {
        Answer answer = await planned.Office.GetAsync($"/v1/{path}");

        Assert.Equal((HttpStatusCode.BadRequest, parameter), (answer.Status, answer.As<Problem>().Field));
    }

    [Fact]
    public async Task Labels_come_as_a_picture_and_as_a_document_of_the_same_size()
    {
        Answer svg = await planned.Office.GetAsync($"/v1/sites/{Some.Site}/labels?tapeMillimetres=18");
        Answer pdf = await planned.Office.GetAsync($"/v1/sites/{Some.Site}/labels?tapeMillimetres=18&format=pdf");

        Assert.Equal(("image/svg+xml", "application/pdf"), (svg.MediaType, pdf.MediaType));
        Assert.Equal(("210mm", "297mm"), (
            XDocument.Parse(svg.Text).Root!.Attribute("width")!.Value, XDocument.Parse(svg.Text).Root!.Attribute("height")!.Value));
        Assert.Equal("%PDF-", Encoding.ASCII.GetString(pdf.Body, 0, 5));
        // 210 mm are 595.28 points of 1/72 of an inch.
        Assert.Matches(@"/MediaBox\s*\[\s*0 0 595\.2[0-9]* 841\.8[0-9]*\s*\]", Encoding.Latin1.GetString(pdf.Body));
    }

    [Fact]
    public async Task Only_what_is_picked_is_printed_and_a_narrow_tape_says_what_it_lacks()
    {
        Answer narrow = await planned.Office.GetAsync($"/v1/sites/{Some.Site}/labels?things=box:{Some.Box}&tapeMillimetres=6&paper=tape");

        Assert.Equal("6mm", XDocument.Parse(narrow.Text).Root!.Attribute("height")!.Value);
        Assert.Contains("text alone", Assert.Single(narrow.Headers.GetValues("Label-Notes")), StringComparison.Ordinal);
        Answer ducts = await planned.Office.GetAsync($"/v1/sites/{Some.Site}/labels?kinds=duct&paper=tape");
        Assert.Contains("page=2", Assert.Single(ducts.Headers.GetValues("Link")), StringComparison.Ordinal);
    }

    private async Task<Answer> ReadAsync(byte[] body, string mediaType)
    {
        ByteArrayContent content = new(body);
        content.Headers.TryAddWithoutValidation("Content-Type", mediaType);
        return await planned.Office.SendAsync(HttpMethod.Post, "/v1/designs/read", content);
    }

    /// <summary>A site with one of everything on it.</summary>
    public sealed class Planned : FleetService
    {
        internal ApiClient Office { get; private set; } = null!;

        public override async ValueTask InitializeAsync()
        {
            await base.InitializeAsync();
            Organisation organisation = await AddOrganisationAsync();
            Office = organisation.Office;
            Device device = await organisation.AddDeviceAsync();
            await device.TellAsync(
                Some.SiteOpened(), Some.DuctLaid(), Some.CablePulled(), Some.BoxSealed(), Some.CircuitDesigned(), Some.FittingFixed(1));
            await CaughtUpAsync();
        }
    }
}

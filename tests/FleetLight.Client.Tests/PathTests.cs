using System.Net;
using System.Text.Json;
using System.Text.RegularExpressions;
using FleetLight.Client.Offices;
using FleetLight.Client.Reading;
using FleetLight.Contracts;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Views;

namespace FleetLight.Client.Tests;

/// <summary>Every call of the client is one that the approved description of the API knows.</summary>
public class PathTests
{
    // Nothing is written there: every call is refused.
    private static readonly string Nowhere = Path.Combine(Path.GetTempPath(), "fleetlight-nowhere");

    [Fact]
    public async Task Every_call_is_described()
    {
        var service = new FakeService((_, _) => FakeService.Text("", "text/plain", HttpStatusCode.Forbidden));
        var client = service.Client();
        Func<Task>[] calls =
        [
            () => client.Device.HandInAsync("[]"u8.ToArray()), () => client.Device.ReceiptAsync(), () => client.Enrolment.ExchangeAsync("c"),
            () => client.Enrolment.RotateAsync(), () => client.Enrolment.HolderAsync(), () => client.Enrolment.SitesAsync(),
            () => AllAsync(client.Status.SitesAsync()), () => client.Status.SiteAsync("s"), () => AllAsync(client.Status.CircuitsAsync()),
            () => client.Status.CircuitAsync("k"), () => AllAsync(client.Status.ReadingsAsync("k")), () => client.Status.DuctAsync("d"),
            () => client.Status.CableAsync("c"), () => client.Status.BoxAsync("b"), () => AllAsync(client.Status.AlertsAsync("s", "k")),
            () => client.Status.AlertAsync("a"), () => client.Status.FleetAsync(), () => client.Changes.PageAsync("1"),
            () => AllAsync(client.Changes.FollowAsync("1")), () => client.AsBuilt.SiteAsync("s"),
            () => AllAsync(client.Photos.ListAsync("s", ThingKind.Box, "b")), () => client.Photos.HandInAsync(new byte[3], "image/png"),
            () => client.Photos.IsInHandAsync("0a"), () => client.Photos.BytesAsync("0a"),
            () => AllAsync(client.Visits.ListAsync(new DateOnly(2026, 3, 4), state: VisitState.CalledOff)), () => client.Visits.VisitAsync("v"),
            () => client.Visits.PlanAsync(new VisitRequest { Day = new DateOnly(2026, 3, 4), SiteId = "s" }),
            () => client.Visits.ChangeAsync("v", new VisitChangeRequest { Day = new DateOnly(2026, 3, 4), Version = 1 }),
            () => client.Visits.DoneAsync("v", "All done."), () => client.Visits.CallOffAsync("v"),
            () => client.Calculations.CircuitHeadroomAsync("k", new CircuitHeadroomRequest { Add = [], Where = new RecordedWhereInput { Place = "driver" } }),
            () => client.Planning.OpenPointsAsync("s", WorkPhase.BeforeCover), () => client.Planning.ReadDesignsAsync("Row"u8.ToArray()),
            () => client.Planning.ReadDesignsAsync([]), () => client.Planning.DesignAsync("k"), () => client.Planning.DesignTableAsync("k"),
            () => client.Planning.DesignsAsync("s"), () => client.Planning.DesignTableOfSiteAsync("s"), () => client.Planning.MaterialsOfCircuitAsync("k"),
            () => client.Planning.MaterialsOfSiteAsync("s"), () => client.Planning.LabelsAsync("s", 12, "duct,box"),
            () => client.Planning.HandoverAsync("s", "html", "letter", DateTimeOffset.UnixEpoch, 60),
            () => client.AsBuilt.SiteAsOfAsync("s", default), () => client.Facts.PageAsync(new() { Site = "s" }), () => client.Facts.FollowAsync(new()),
            () => AllAsync(client.Status.FindCircuitsAsync("k")), () => AllAsync(client.Status.FleetSitesAsync("q")),
            () => client.Status.FleetDayAsync(new(2026, 3, 3)), () => client.Status.AsOfAsync<DuctView>("d", DateTimeOffset.UnixEpoch),
            () => client.Status.CircuitPageAsync(new CircuitFilter { Text = "a b", Verdict = CircuitVerdict.CannotBeJudged }),
            () => client.Status.AlertPageAsync(new AlertFilter { Severity = AlertSeverity.Serious }), () => client.Status.AcknowledgeAsync("a", "n"),
            () => client.Status.FleetSitePageAsync("q"),
            () => client.Office.DevicesAsync(), () => client.Office.AssignAsync("urn:a/b", ["s"]), () => client.Office.LostAsync("urn:a/b"),
            () => client.Office.CodesAsync(), () => client.Office.MakeCodeAsync(new CodeRequest { Name = "n", Role = "device" }),
            () => client.Office.WithdrawCodeAsync("e"), () => client.Office.RefusedAsync(), () => client.Office.RefusedAsync("r", default),
            () => client.Office.ResubmitAsync("r", "{}"u8.ToArray()), () => client.Office.DismissAsync("r", "n"), () => client.Office.SetAsideAsync(),
            () => client.Office.TakeInAsync(), () => client.Office.JudgingAsync(), () => client.Office.SetJudgingAsync(new JudgingSettings()),
            () => client.Office.AuditAsync(),
            () => client.Subscriptions.MakeAsync(new SubscriptionRequest { Url = "https://a" }), () => client.Subscriptions.ListAsync(),
            () => client.Subscriptions.FindAsync("i"), () => client.Subscriptions.EndAsync("i"), () => client.Subscriptions.ReplaceSecretAsync("i"),
            () => client.Subscriptions.MoveAsync("i", "start"), () => AllAsync(client.Subscriptions.ParkedAsync("i")),
            () => client.Subscriptions.RetryAsync("i", "m"), () => client.Subscriptions.DropAsync("i", "m"),
            () => client.Stream.PageAsync("c", new StreamFilter { Sites = ["s"] }), () => AllAsync(client.Stream.FollowAsync("c")),
            () => client.Ledger.CheckpointAsync(), () => client.Ledger.MakeCheckpointAsync(), () => AllAsync(client.Ledger.CheckpointsAsync()),
            () => client.Ledger.KeysAsync(), () => client.Ledger.InclusionAsync("a#1", 3), () => client.Ledger.ConsistencyAsync(1, 2),
            () => client.Ledger.SiteAsync("s"), () => AllAsync(client.Ledger.LeavesAsync("s")), () => client.Exports.ManifestAsync(3),
            () => client.Exports.LeafHashesAsync(3, Nowhere), () => client.Exports.TableAsync("ducts", Nowhere), () => client.Exports.GeoPackageAsync(Nowhere, "s"),
            () => client.Planning.HandoverPackAsync("s"),
            () => client.Calculations.DriftAsync(new DriftRequest { Readings = [], Quantity = default }),
        ];
        foreach (var call in calls) await Assert.ThrowsAsync<ProblemException>(call);

        using var api = JsonDocument.Parse(await File.ReadAllTextAsync(At("contracts/openapi/v1.json"), TestContext.Current.CancellationToken));
        var known = api.RootElement.GetProperty("paths").EnumerateObject()
            .SelectMany(path => path.Value.EnumerateObject().Select(method => (Method: method.Name.ToUpperInvariant(), Path: path.Name)))
            .Select(each => new Regex($"^{each.Method} {Regex.Replace(each.Path, "\\{[^}]+\\}", "[^/]+")}$")).ToArray();
        Assert.All(service.Requests, request => Assert.Contains(known, path => path.IsMatch(Described(request.Line.Split('?')[0]))));
        Assert.Equal(calls.Length, service.Requests.Count);
    }

    [Theory]
    [InlineData("expected")]
    [InlineData("verdict")]
    [InlineData("diagnosis")]
    [InlineData("next-measurement")]
    [InlineData("headroom")]
    [InlineData("drift")]
    [InlineData("duct-fill")]
    [InlineData("duct-pull")]
    public void Every_calculation_that_is_asked_for_is_described(string name)
    {
        using var api = JsonDocument.Parse(File.ReadAllText(At("contracts/openapi/v1.json")));
        Assert.True(api.RootElement.GetProperty("paths").TryGetProperty($"/v1/calculations/{name}", out _));
    }

    // HEAD follows from GET and is not described by itself.
    private static string Described(string line) => line.StartsWith("HEAD ", StringComparison.Ordinal) ? $"GET {line[5..]}" : line;

    private static async Task AllAsync<T>(IAsyncEnumerable<T> items)
    {
        await foreach (var _ in items) Assert.Fail("Nothing comes.");
    }

    private static string At(string path)
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder.FullName, "FleetLight.sln"))) folder = folder.Parent!;
        return Path.Combine(folder.FullName, path);
    }
}

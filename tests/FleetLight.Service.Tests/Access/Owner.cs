using FleetLight.Contracts.Views;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Service.Tests.Photos;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Access;

/// <summary>An organisation that has something behind every path of the service. Whatever it is, its id begins with a mark.</summary>
internal sealed record Owner(Organisation Organisation, Device Device, string WebhookId, string DeliveryId, string RefusedId, string AlertId, string EnrolmentId, SentEvent Mended,
    string Sha256, string VisitId, string SubscriptionId)
{
    public const string Mark = "mine";

    public ApiClient Office => Organisation.Office;

    /// <summary>The client whose key has the scope that the operation asks for.</summary>
    public ApiClient Of(Operation operation) => operation.Scope is "post-events" or Operation.AnyScope ? Device.Api : Office;

    /// <summary>The id that stands for a parameter of a path.</summary>
    public string Parameter(string path, string name) => (path.Split('/')[2], name) switch
    {
        ("circuits", _) => $"{Mark}-circuit",
        ("sites", _) => $"{Mark}-site",
        ("ducts", _) => $"{Mark}-duct",
        ("cables", _) => $"{Mark}-cable",
        ("boxes", _) => $"{Mark}-box",
        ("alerts", _) => AlertId,
        ("refused", _) => RefusedId,
        ("keys", _) => Device.Api.Key!.Split('.')[0],
        ("enrolments", _) => EnrolmentId,
        ("devices", _) => Device.Source,
        ("attachments", _) => Sha256,
        ("visits", _) => VisitId,
        ("subscriptions", "message") => $"{Mark}-parked",
        ("subscriptions", _) => SubscriptionId,
        ("ledger", "fact") => $"{Device.Source}#0001",
        ("ledger", _) => $"{Mark}-site",
        ("export", _) => "ducts",
        ("webhooks", "delivery") => DeliveryId,
        ("webhooks", _) => WebhookId,
        ("collections", "collection") => "ducts",
        ("collections", "feature") => $"{Mark}-duct",
        ("collections", "z" or "y" or "x") => "0",
        _ => throw new NotSupportedException($"Say which id stands for {name} in {path}."),
    };

    public static async Task<Owner> AddAsync(FleetService service)
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync($"urn:{Mark}:device");
        Answer made = await organisation.Office.PostAsync("/v1/keys", new { name = $"{Mark}-settings", scopes = (string[])["administer"] });
        Answer set = await organisation.Office.With((string)made.Json["key"]!).SendAsync(
            HttpMethod.Put, "/v1/judging", new StringContent("{\"falseAlarmPercent\":0.5}", System.Text.Encoding.UTF8, "application/json"));
        Assert.Equal(1, set.As<JudgingView>().Version);
        string webhook = (await organisation.Office.PostAsync("/v1/webhooks", new { url = $"http://127.0.0.1:9/{Mark}" })).Json["id"]!.GetValue<string>();
        string subscription = (string)(await organisation.Office.PostAsync("/v1/subscriptions", new { url = $"http://127.0.0.1:9/{Mark}" })).Json["id"]!;
        await service.QueryAsync<string>(
            """
            insert into fleetlight.fl_parked (tenant_id, subscription_id, id, position, ordinal, type, source, event_id, error, parked_at)
            values ($1, $2, $3, 1, -1, 'fleetlight.site.opened.v1', $4, 'e1', 'The receiver answered 500.', now()) returning id
            """, organisation.Name, subscription, $"{Mark}-parked", device.Source);
        string enrolment = (string)(await organisation.Office.PostAsync("/v1/enrolments", new { name = $"{Mark}-van", role = "device" })).Json["id"]!;
        await organisation.Office.SendAsync(HttpMethod.Put, $"/v1/devices/{Uri.EscapeDataString(device.Source)}/sites",
            new StringContent($"{{\"sites\":[\"{Mark}-site\"]}}", System.Text.Encoding.UTF8, "application/json"));
        await device.TellAsync(
            Some.SiteOpened($"{Mark}-site"),
            Some.DuctLaid($"{Mark}-duct", $"{Mark}-site"),
            Some.BoxSealed($"{Mark}-box", gelFilled: false, site: $"{Mark}-site"),
            Some.CablePulled($"{Mark}-cable", [$"{Mark}-duct"], $"{Mark}-circuit", site: $"{Mark}-site"),
            Some.CircuitDesigned($"{Mark}-circuit", $"{Mark}-site", $"{Mark}-cable"),
            Some.Reading(9.3, $"{Mark}-circuit", $"{Mark}-site"));
        Picture picture = Picture.Of($"{Mark} picture");
        await device.TellAsync(picture.Taken(box: $"{Mark}-box", site: $"{Mark}-site"));
        (await picture.SendAsync(device.Api)).Expect(System.Net.HttpStatusCode.Created);
        // For what asks for today.
        await device.TellAsync(service.Clock.Now, Some.SiteOpened($"{Mark}-site"));
        SentEvent mended = device.Record(Some.FittingFixed(1, $"{Mark}-circuit", site: $"{Mark}-site"));
        string refused = Assert.Single((await device.SendAsync(mended.ChangeData(data => data["more"] = 1))).Outcomes).RefusedId!;
        await service.CaughtUpAsync();
        await service.QueryAsync<string>(
            "insert into fleetlight.fl_set_aside (tenant_id, id, thing, error, at) values ($1, $2, $3, 'spoilt', now()) returning id",
            organisation.Name, Guid.NewGuid().ToString("N"), $"box:{Mark}-aside");
        AlertView alert = (await organisation.Office.ReadAsync<Page<AlertView>>("/v1/alerts?rule=ground-box-not-gel-filled")).Items.Single();
        string visit = (await organisation.Office.PostAsync(
            "/v1/visits", new { day = "2041-06-02", siteId = $"{Mark}-site", alertIds = (string[])[alert.Id], note = $"{Mark} gate" })).As<VisitView>().Id;
        await service.CaughtUpAsync();
        // What only a fault in the projection would put there.
        await service.QueryAsync<string>(
            "insert into fleetlight.fl_set_aside (tenant_id, id, thing, error, at) values ($1, $2, $3, 'Could not be folded.', now()) returning id",
            organisation.Name, Guid.NewGuid().ToString("N"), $"duct:{Mark}-duct");
        Answer deliveries = await Eventually.ReadAsync(
            () => organisation.Office.GetAsync($"/v1/webhooks/{webhook}/deliveries"),
            answer => answer.Text.Contains("\"attempts\":1", StringComparison.Ordinal), "a delivery to be tried");
        (await organisation.Office.PostAsync("/v1/ledger/checkpoint")).Expect(System.Net.HttpStatusCode.OK);
        return new Owner(organisation, device, webhook, (string)deliveries.Json["items"]![0]!["id"]!, refused, alert.Id, enrolment, mended,
            picture.Sha256, visit, subscription);
    }
}

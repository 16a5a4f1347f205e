using System.Net;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using FleetLight.Endurance.Tests.Hosting;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Service;

namespace FleetLight.Endurance.Tests.Upgrade;

/// <summary>A little of everything that a store can hold, handed in over the API of any version.</summary>
internal static class SmallLoad
{
    /// <summary>The organisation whose answers are compared.</summary>
    public const string Name = "garden";

    private static readonly string[] OneRule = ["reading-outside"];
    private static readonly string[] Assigned = ["site-1", "site-3"];

    /// <summary>Hands it in; answers the keys of its office and of its devices, and what signs its webhooks, by their ids.</summary>
    public static async Task<(ApiClient Office, Device Crew, Device Van, Dictionary<string, string> Secrets)> HandInAsync(ServiceProcess service)
    {
        Dictionary<string, string> secrets = [];
        Organisation organisation = await Organisation.CreateAsync(service.Host, Name);
        ApiClient office = organisation.Office;
        Device crew = await organisation.AddDeviceAsync("/devices/crew-1"), van = await organisation.AddDeviceAsync("urn:fleetlight:van-7");
        await HookAsync(office, secrets, new { url = "http://127.0.0.1:9/" });
        (await office.SendAsync(HttpMethod.Put, "/v1/judging", Json("""{"falseAlarmPercent":0.4}"""))).Expect(HttpStatusCode.OK);

        // One fact of every type that this version says it takes, as the contract's examples tell them.
        string takes = (await service.Anybody.GetAsync("/openapi/v1.json")).Expect(HttpStatusCode.OK).Text;
        string[] examples = [.. Directory.GetFiles(Repository.At("contracts/examples"), "*.json").Select(File.ReadAllText)
            .Where(text => takes.Contains((string)JsonNode.Parse(text)!["type"]!, StringComparison.Ordinal))
            .OrderBy(text => (int)JsonNode.Parse(text)![Envelope.RunningNumber]!)];
        await PostAsync(crew.Api, examples);
        crew.Skip(examples.Length);
        foreach (int garden in Enumerable.Range(1, 6))
        {
            (string site, string circuit, string duct, string cable, string box) = ($"site-{garden}", $"circuit-{garden}", $"duct-{garden}", $"cable-{garden}", $"box-{garden}");
            await van.TellAsync(
                Facts.SiteOpened(site), Facts.DuctLaid(duct, siteId: site),
                Facts.CablePulled(cable, [duct], cores: [Facts.Core("brown", circuit), Facts.Core("blue", circuit)], siteId: site),
                Facts.BoxSealed(box, gelFilled: garden % 2 == 0, siteId: site), CircuitFacts.Designed(circuit, siteId: site),
                CircuitFacts.Fixed("F1", circuitId: circuit, siteId: site),
                CircuitFacts.Connected(circuitId: circuit, siteId: site), CircuitFacts.Energised(circuitId: circuit, siteId: site));
            foreach (int visit in Enumerable.Range(1, 20))
                await van.TellAsync(Device.Began.AddDays(visit), CircuitFacts.Reading(garden == 3 && visit > 17 ? 5.1 : 9.2 + 0.001 * visit, circuitId: circuit, siteId: site));
        }

        await service.CaughtUpAsync();
        await SetAsideAsync(office, van);
        // A correction whose fact has not come, and numbers that are missing.
        van.Skip(3);
        await van.TellAsync(Facts.Joined(ThingKind.Box, "box-1", "box-1-again", "site-1"), new FactCorrected
        {
            SiteId = "site-1",
            TargetId = "not-here-yet",
            TargetType = "fleetlight.box.sealed.v1",
            Action = CorrectionAction.Withdraw,
            Reason = "Recorded twice.",
        });
        await van.TellAsync(Facts.BoxSealed("box-5", gelFilled: true, siteId: "site-5"));
        await service.CaughtUpAsync();
        JsonNode alert = (await office.GetAsync("/v1/alerts")).Json["items"]![0]!;
        await office.PostAsync($"/v1/alerts/{alert["id"]}/acknowledge", new { note = "The crew is back on Thursday." });
        string revoked = await organisation.MakeKeyAsync("read-status");
        (await office.DeleteAsync($"/v1/keys/{revoked.Split('.')[0]}")).Expect(HttpStatusCode.NoContent);
        await PlanAsync(office, (string)alert["siteId"]!, [(string)alert["id"]!]);
        await HookAsync(office, secrets, new { url = "http://127.0.0.1:9/joints", rules = OneRule });
        await PhotographAsync(van);
        await service.CaughtUpAsync();
        return (office, crew, van, secrets);
    }

    private static async Task HookAsync(ApiClient office, Dictionary<string, string> secrets, object hook)
    {
        JsonNode made = (await office.PostAsync("/v1/webhooks", hook)).Expect(HttpStatusCode.Created).Json;
        secrets.Add((string)made["id"]!, (string)made["secret"]!);
    }

    // Refused facts: one open, one mended, one dismissed.
    private static async Task SetAsideAsync(ApiClient office, Device van)
    {
        SentEvent[] bad = [.. Enumerable.Range(0, 3).Select(_ => van.Record(Facts.BoxSealed("box-6", siteId: "site-6")).ChangeData(data => data.Remove("lie")))];
        string[] ids = [.. (await van.SendAsync(bad)).Outcomes.Select(outcome => outcome.RefusedId!)];
        SentEvent mended = bad[1].ChangeData(data => data["lie"] = "flat-in-ground");
        (await office.PostAsync($"/v1/refused/{ids[1]}/resubmit", mended.Text, Envelope.SingleMediaType)).Expect(HttpStatusCode.OK);
        (await office.PostAsync($"/v1/refused/{ids[2]}/dismiss", new { note = "Not needed." })).Expect(HttpStatusCode.OK);
    }

    // Visits: one planned for an alert, one made, one called off; a key by its role, and sites of a device.
    private static async Task PlanAsync(ApiClient office, string siteId, string[] alertIds)
    {
        string[] visits = [.. await Task.WhenAll(Enumerable.Range(1, 3).Select(async day =>
            (string)(await office.PostAsync("/v1/visits", new { day = $"2041-06-0{day}", siteId, alertIds, note = "Look at the readings." }))
                .Expect(HttpStatusCode.Created).Json["id"]!))];
        (await office.PostAsync($"/v1/visits/{visits[1]}/done", new { note = "The gel was out." })).Expect(HttpStatusCode.OK);
        (await office.DeleteAsync($"/v1/visits/{visits[2]}")).Expect(HttpStatusCode.OK);
        (await office.PostAsync("/v1/keys", new { name = "the owner's programme", role = "third-party" })).Expect(HttpStatusCode.Created);
        (await office.PutAsync($"/v1/devices/{Uri.EscapeDataString("urn:fleetlight:van-7")}/sites", new { sites = Assigned })).Expect(HttpStatusCode.OK);
    }

    // Photos: one whose bytes are in hand, one whose bytes have not come.
    private static async Task PhotographAsync(Device van)
    {
        byte[] bytes = [0x89, .. "PNG\r\n\u001a\nthe lid of box 2"u8];
        string digest = Convert.ToHexStringLower(SHA256.HashData(bytes));
        await van.TellAsync(
            Facts.PhotoTaken(thingId: "box-2", sha256: digest, sizeBytes: bytes.Length, caption: "Before the lid went on.", siteId: "site-2"),
            Facts.PhotoTaken(thingId: "box-4", siteId: "site-4"));
        (await van.Api.PutAsync($"/v1/attachments/{digest}", bytes, "image/png")).Expect(HttpStatusCode.Created);
    }

    private static async Task PostAsync(ApiClient api, IEnumerable<string> events)
    {
        BatchReceipt receipt = (await api.PostAsync("/v1/events", $"[{string.Join(',', events)}]", Envelope.BatchMediaType)).Expect(HttpStatusCode.OK).As<BatchReceipt>();
        if (receipt.Refused > 0) throw new InvalidOperationException(JsonSerializer.Serialize(receipt.Outcomes, WireJson.Lenient));
    }

    private static StringContent Json(string text) => new(text, Encoding.UTF8, "application/json");
}

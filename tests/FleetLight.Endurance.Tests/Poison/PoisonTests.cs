using System.Net;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Endurance.Tests.Hosting;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Postgres;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Endurance.Tests.Poison;

/// <summary>
/// A build with a fault in it meets facts that it cannot work into states. They are set aside and named, everything else goes on,
/// and the sound build in its place takes them in. Each test has a database of its own, and the service is a process.
/// </summary>
public sealed partial class PoisonTests : IAsyncLifetime
{
    private TestDatabase database = null!;
    private ServiceProcess service = null!;

    public async ValueTask InitializeAsync()
    {
        database = await TestDatabase.CreateAsync();
        service = await ServiceProcess.StartAsync(database.ConnectionString, ServiceProcess.Poisoned);
    }

    public async ValueTask DisposeAsync()
    {
        await service.DisposeAsync();
        await database.DisposeAsync();
    }

    [Fact]
    public async Task A_fact_that_makes_a_fold_fail_is_set_aside_and_named_and_taken_in_after_the_mend()
    {
        Organisation organisation = await Organisation.CreateAsync(service.Host, "poisoned");
        Organisation other = await Organisation.CreateAsync(service.Host, "beside");
        Device device = await organisation.AddDeviceAsync("urn:crew"), beside = await other.AddDeviceAsync("urn:crew");
        IFact[] sound =
        [
            Facts.SiteOpened(), Facts.DuctLaid(), Facts.CablePulled(), CircuitFacts.Designed(), CircuitFacts.Reading(9.2),
            .. Enumerable.Range(1, 300).Select(number => Facts.BoxSealed($"box-{number}")),
        ];
        IFact[] poison = [Facts.BoxSealed("box-7", gelFilled: false, label: "poison"), CircuitFacts.Reading(66.6)];
        await beside.TellAsync(sound);
        SentEvent[] sent = device.Record([.. sound[..120], poison[0], .. sound[120..], poison[1], Facts.JointMade("box-7"), CircuitFacts.Reading(9.3)]);
        BatchReceipt receipt = await device.SendAsync(sent);
        Assert.Equal(sent.Length, receipt.Recorded);
        await service.CaughtUpAsync();

        List<JsonNode> aside = await States.AllAsync(organisation.Office, "/v1/set-aside");
        Assert.Equal(
            [
                "fact urn:crew#0121 fleetlight.box.sealed.v1 box:box-7 KeyNotFoundException: A poisoned fact.",
                "fact urn:crew#0307 fleetlight.reading.taken.v1 circuit:circuit-1 InvalidOperationException: A reading of 66.6.",
            ],
            aside.Select(each => $"{each["kind"]} {each["fact"]} {each["type"]} {each["thing"]} {each["error"]}").Order());
        Assert.Empty(await States.AllAsync(other.Office, "/v1/set-aside"));
        Answer ready = await service.Anybody.GetAsync("/health/ready");
        Assert.Equal(HttpStatusCode.OK, ready.Status);
        Assert.Contains("2 facts or things are set aside", ready.Text, StringComparison.Ordinal);
        await Eventually.IsSoAsync(
            async () => (await service.Anybody.GetAsync("/metrics")).Text.Split('\n').Any(line =>
                line.StartsWith("fleetlight_set_aside_open", StringComparison.Ordinal) && line.EndsWith("} 2", StringComparison.Ordinal)),
            "the gauge to show it");

        // Everything else of the page is there, of the same box and circuit too, and the other organisation notices nothing.
        BoxView box = await organisation.Office.ReadAsync<BoxView>("/v1/boxes/box-7");
        Assert.True(box.GelFilled);
        Assert.Single(box.Joints);
        Assert.Equal([9.3, 9.2], (await organisation.Office.ReadAsync<CircuitView>("/v1/circuits/circuit-1")).LastReadings.Select(each => each.Value));
        Assert.Equal(HttpStatusCode.OK, (await organisation.Office.GetAsync("/v1/boxes/box-300")).Status);
        Assert.Equal(300, (await States.AllAsync(other.Office, "/v1/changes?limit=1000")).Count(each => (string?)each["kind"] == "box"));

        await service.ReplaceAsync(ServiceProcess.Sound);
        Assert.Equal(2, (await organisation.Office.PostAsync("/v1/set-aside/take-in")).Expect(HttpStatusCode.Accepted).Json["pieces"]!.GetValue<int>());
        await service.CaughtUpAsync();

        Assert.Empty(await States.AllAsync(organisation.Office, "/v1/set-aside"));
        Assert.DoesNotContain("set aside", (await service.Anybody.GetAsync("/health/ready")).Text, StringComparison.Ordinal);
        Organisation never = await Organisation.CreateAsync(service.Host, "never-poisoned");
        await (await never.AddDeviceAsync("urn:crew")).SendAsync(sent);
        await service.CaughtUpAsync();
        Assert.Equal(await Comparable(never), await Comparable(organisation));
        JsonNode alert = Assert.Single(await States.AllAsync(organisation.Office, "/v1/alerts?rule=ground-box-not-gel-filled"));
        Assert.Equal(1, alert["timesRaised"]!.GetValue<int>());
        await KeepRowAsync("poison-fold", "a fact that makes a fold fail", poison.Length, organisation, device, sent);
    }

    [Fact]
    public async Task A_correction_mends_without_another_build()
    {
        Organisation organisation = await Organisation.CreateAsync(service.Host);
        Device device = await organisation.AddDeviceAsync();
        SentEvent poison = device.Record(Facts.BoxSealed("box-1", label: "poison"));
        await device.SendAsync([.. device.Record(Facts.SiteOpened(), Facts.BoxSealed("box-1", gelFilled: false)), poison]);
        await service.CaughtUpAsync();
        Assert.Single(await States.AllAsync(organisation.Office, "/v1/set-aside"));

        await device.TellAsync(new FactCorrected
        {
            SiteId = Facts.Site,
            TargetId = poison.Id,
            TargetType = "fleetlight.box.sealed.v1",
            Action = CorrectionAction.Replace,
            Reason = "The label was misread.",
            Replacement = Facts.Json(Facts.BoxSealed("box-1", label: "B1")),
        });
        await service.CaughtUpAsync();

        Assert.Empty(await States.AllAsync(organisation.Office, "/v1/set-aside"));
        Assert.Equal("B1", (await organisation.Office.ReadAsync<BoxView>("/v1/boxes/box-1")).Label);
    }

    [Fact]
    public async Task A_thing_that_fails_on_what_was_recorded_before_keeps_its_state_and_takes_up_all_that_came_since()
    {
        await service.ReplaceAsync(ServiceProcess.Sound);
        Organisation organisation = await Organisation.CreateAsync(service.Host);
        Device device = await organisation.AddDeviceAsync();
        List<SentEvent> sent = [];
        async Task TellAsync(params IFact[] facts)
        {
            SentEvent[] batch = device.Record(facts);
            sent.AddRange(batch);
            await device.SendAsync(batch);
            await service.CaughtUpAsync();
        }

        await TellAsync(
            Facts.SiteOpened(), Facts.BoxSealed("cursed-box", gelFilled: false), CircuitFacts.Designed("cursed-circuit"),
            CircuitFacts.Reading(9.1, circuitId: "cursed-circuit"));
        await service.ReplaceAsync(ServiceProcess.Poisoned);
        await TellAsync(Facts.BoxSealed("cursed-box", label: "B9"), Facts.BoxSealed("sound-box"));
        await TellAsync(CircuitFacts.Designed("cursed-circuit", name: "Renamed"), CircuitFacts.Reading(9.4, circuitId: "cursed-circuit"));
        await TellAsync(CircuitFacts.Reading(9.5, circuitId: "cursed-circuit"), Facts.BoxSealed("sound-box", label: "B1"));

        Assert.Equal(
            ["thing box:cursed-box", "thing circuit:cursed-circuit"],
            (await States.AllAsync(organisation.Office, "/v1/set-aside")).Select(each => $"{each["kind"]} {each["thing"]}").Order());
        Assert.False((await organisation.Office.ReadAsync<BoxView>("/v1/boxes/cursed-box")).GelFilled);
        Assert.Equal("B1", (await organisation.Office.ReadAsync<BoxView>("/v1/boxes/sound-box")).Label);

        await service.ReplaceAsync(ServiceProcess.Sound);
        await organisation.Office.PostAsync("/v1/set-aside/take-in");
        await service.CaughtUpAsync();

        Assert.Empty(await States.AllAsync(organisation.Office, "/v1/set-aside"));
        CircuitView circuit = await organisation.Office.ReadAsync<CircuitView>("/v1/circuits/cursed-circuit");
        Assert.Equal("Renamed", circuit.Name);
        Assert.Equal([9.5, 9.4, 9.1], circuit.LastReadings.Select(each => each.Value));
        Organisation never = await Organisation.CreateAsync(service.Host);
        Device again = await never.AddDeviceAsync(device.Source);
        foreach (SentEvent each in sent) await again.SendAsync(each);
        await service.CaughtUpAsync();
        Assert.Equal(await Comparable(never), await Comparable(organisation));
        await KeepRowAsync("poison-thing", "a thing that cannot be folded any more", 2, organisation, device, [.. sent]);
    }

    [Fact]
    public async Task A_fact_that_cannot_be_read_is_named_and_taken_in_with_its_correction_by_a_build_that_can()
    {
        Organisation organisation = await Organisation.CreateAsync(service.Host);
        Device device = await organisation.AddDeviceAsync();
        SentEvent unreadable = device.Record(new DuctPlugged { SiteId = Facts.Site, DuctId = Facts.Duct, End = RunEnd.Near, With = "unreadable" });
        SentEvent withdrawn = device.Record(new DuctPlugged { SiteId = Facts.Site, DuctId = Facts.Duct, End = RunEnd.Far, With = "unreadable" });
        SentEvent[] sent =
        [
            .. device.Record(Facts.SiteOpened(), Facts.DuctLaid()), unreadable, withdrawn,
            device.Record(new FactCorrected
            {
                SiteId = Facts.Site,
                TargetId = withdrawn.Id,
                TargetType = "fleetlight.duct.plugged.v1",
                Action = CorrectionAction.Withdraw,
                Reason = "It was not closed.",
            }),
            device.Record(Facts.BoxSealed()),
        ];
        await device.SendAsync(sent);
        await service.CaughtUpAsync();

        List<JsonNode> aside = await States.AllAsync(organisation.Office, "/v1/set-aside");
        Assert.Equal(
            [$"unreadable {device.Source}#{unreadable.Id} fleetlight.duct.plugged.v1", $"unreadable {device.Source}#{withdrawn.Id} fleetlight.duct.plugged.v1"],
            aside.Select(each => $"{each["kind"]} {each["fact"]} {each["type"]}").Order());
        Assert.All(aside, each => Assert.NotEmpty((string)each["error"]!));
        Assert.Equal(HttpStatusCode.OK, (await organisation.Office.GetAsync("/v1/boxes/box-1")).Status);
        Assert.Empty((await organisation.Office.ReadAsync<DuctView>("/v1/ducts/duct-1")).PluggedEnds);

        await service.ReplaceAsync(ServiceProcess.Sound);
        await organisation.Office.PostAsync("/v1/set-aside/take-in");
        await service.CaughtUpAsync();

        Assert.Empty(await States.AllAsync(organisation.Office, "/v1/set-aside"));
        Assert.Equal([RunEnd.Near], (await organisation.Office.ReadAsync<DuctView>("/v1/ducts/duct-1")).PluggedEnds);
        await KeepRowAsync("poison-unreadable", "a fact that cannot be read from the store", 2, organisation, device, sent);
    }

    private async Task KeepRowAsync(string name, string fault, int tried, Organisation organisation, Device device, SentEvent[] sent)
    {
        string[] found = [.. (await Sql.FactsAsync(database.ConnectionString)).Where(fact => fact.StartsWith(organisation.Name + " ", StringComparison.Ordinal))];
        string[] wanted = [.. sent.Select(each => $"{organisation.Name} {device.Source}#{each.Id}")];
        int receipted = (await device.ReceiptAsync()).CompleteThrough;
        FaultRow row = new(
            fault, tried, sent.Length, receipted, found.Length, wanted.Except(found).Count(), found.Length - found.Distinct().Count());
        row.Keep(name);
        Assert.Equal((sent.Length, sent.Length, 0, 0), (receipted, found.Length, row.Lost, row.Doubled));
    }

    // When a fact was recorded follows from when it was sent.
    private static async Task<string[]> Comparable(Organisation organisation) =>
        [.. (await States.OfAsync(organisation.Office, withHistory: false)).Select(line => RecordedAt().Replace(line, ""))];

    [GeneratedRegex("\"recordedAt\":\"[^\"]*\"")]
    private static partial Regex RecordedAt();
}

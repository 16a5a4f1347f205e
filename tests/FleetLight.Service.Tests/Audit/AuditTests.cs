using System.Net;
using System.Text;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Access;
using FleetLight.Service.Audit;
using FleetLight.Service.Tests.Access;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Audit;

public sealed class AuditTests(FleetService service) : IClassFixture<FleetService>
{
    [Fact]
    public async Task Every_act_is_noted_with_who_what_when_and_from_where()
    {
        Owner owner = await Owner.AddAsync(service);
        ApiClient office = owner.Office;
        object note = new { note = "Seen." };
        EnrolmentView enrolment = (await office.PostAsync("/v1/enrolments", new { name = "van", role = "device" })).As<EnrolmentView>();
        await service.Anybody.PostAsync("/v1/enrolments/exchange", new { code = enrolment.Code, device = "tablet" });
        await office.DeleteAsync($"/v1/enrolments/{owner.EnrolmentId}");
        await office.PostAsync($"/v1/alerts/{owner.AlertId}/acknowledge", note);
        await office.PutAsync($"/v1/visits/{owner.VisitId}", new { day = "2041-06-03", version = 1 });
        await office.PostAsync($"/v1/visits/{owner.VisitId}/done", note);
        string visit = (await office.PostAsync("/v1/visits", new { day = "2041-06-03", siteId = Some.Site })).As<VisitView>().Id;
        await office.DeleteAsync($"/v1/visits/{visit}");
        await office.PostAsync($"/v1/refused/{owner.RefusedId}/resubmit", owner.Mended.Text, Envelope.SingleMediaType);
        SentEvent wrong = owner.Device.Record(Some.BoxSealed());
        string refused = (await owner.Device.SendAsync(wrong.ChangeData(data => data["more"] = 1))).Outcomes[0].RefusedId!;
        await office.PostAsync($"/v1/refused/{refused}/dismiss", note);
        await service.QueryAsync<string>(
            $"update fleetlight.mt_doc_delivery set state = 2, data = data || '{{\"state\":\"parked\"}}' where id = $1 returning id", owner.DeliveryId);
        Assert.Equal(HttpStatusCode.OK, (await office.PostAsync($"/v1/webhooks/{owner.WebhookId}/deliveries/{owner.DeliveryId}/retry")).Status);
        await office.PostAsync($"/v1/webhooks/{owner.WebhookId}/secret");
        await office.DeleteAsync($"/v1/webhooks/{owner.WebhookId}");
        string subscription = $"/v1/subscriptions/{owner.SubscriptionId}";
        await office.PostAsync($"{subscription}/secret");
        await office.PostAsync($"{subscription}/move", new { after = "now" });
        await office.PostAsync($"{subscription}/parked/{Owner.Mark}-parked/retry");
        // The receiver is none, so that it comes back.
        await office.DeleteAsync($"{subscription}/parked/{Owner.Mark}-parked");
        await office.DeleteAsync(subscription);
        await owner.Device.Api.PostAsync("/v1/keys/self/rotate");
        string key = (await owner.Organisation.MakeKeyAsync("read-status")).Split('.')[0];
        await office.DeleteAsync($"/v1/keys/{key}");
        await office.PostAsync($"/v1/devices/{Uri.EscapeDataString(owner.Device.Source)}/lost");

        IReadOnlyList<ActDone> acts = (await office.ReadAsync<Page<ActDone>>("/v1/audit?limit=1000")).Items;

        // What was set aside needs a fault in the projection: its own tests have one.
        Assert.Equal(Enum.GetValues<AdministrativeAct>().Where(act => act != AdministrativeAct.SetAsideTakenIn), acts.Select(act => act.Act).Distinct().Order());
        Assert.All(acts, act => Assert.Equal(("127.0.0.1", service.Clock.Now), (act.From, act.At)));
        ActDone used = Assert.Single(acts, act => act.Act == AdministrativeAct.EnrolmentUsed);
        Assert.Equal((new Actor(ActorKind.Code, enrolment.Id, "van"), "tablet"), (used.By, used.Details!["device"]));
        ActDone revoked = Assert.Single(acts, act => act.Act == AdministrativeAct.KeyRevoked);
        Assert.Equal((key, ActorKind.Key, office.Key!.Split('.')[0]), (revoked.Target, revoked.By.Kind, revoked.By.Id));
        // The first key makes an organisation's office: it is noted where the key belongs.
        Assert.Equal("first key", acts[^1].By.Name);
    }

    [Fact]
    public async Task Pages_show_each_act_once_though_others_come_meanwhile()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        for (int made = 0; made < 5; made++) await organisation.MakeKeyAsync("read-status");
        List<ActDone> seen = [];
        string? cursor = null;
        do
        {
            Page<ActDone> page = await organisation.Office.ReadAsync<Page<ActDone>>($"/v1/audit?limit=2{(cursor is null ? "" : $"&cursor={cursor}")}");
            await organisation.MakeKeyAsync("read-status");
            seen.AddRange(page.Items);
            cursor = page.Next;
        }
        while (cursor is not null);

        Assert.Equal(6, seen.Count);
        Assert.Equal(6, seen.Select(act => act.Target).Distinct().Count());
    }

    [Fact]
    public async Task What_was_refused_is_not_noted()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        await organisation.Office.PostAsync("/v1/keys", new { name = "", role = "office" });
        await organisation.Office.DeleteAsync("/v1/keys/not-there");
        await organisation.Office.SendAsync(HttpMethod.Put, "/v1/judging", new StringContent("{\"x\":1}", Encoding.UTF8, "application/json"));

        Assert.Single((await organisation.Office.ReadAsync<Page<ActDone>>("/v1/audit")).Items);
    }
}

using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Tests.Access;
using FleetLight.Service.Tests.Photos;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Hosting;

/// <summary>What the OpenAPI document says of an answer is so.</summary>
public sealed class DescribedTests(FleetService service) : IClassFixture<FleetService>
{
    [Fact]
    public async Task Every_read_is_answered_as_it_is_described()
    {
        Owner owner = await Owner.AddAsync(service);
        AnswerSchemas schemas = await AnswerSchemas.ReadAsync(service.Anybody);

        foreach (Operation operation in (await Operation.AllAsync(service.Anybody)).Where(each => each.Method == "GET"))
        {
            Answer found = await operation.CallAsync(owner.Of(operation), name => owner.Parameter(operation.Path, name));
            Assert.Equal(System.Net.HttpStatusCode.OK, found.Status);
            schemas.Check("GET", operation.Path, found);
        }
    }

    [Fact]
    public async Task Every_read_of_what_is_not_there_is_answered_as_it_is_described()
    {
        Owner owner = await Owner.AddAsync(service);
        AnswerSchemas schemas = await AnswerSchemas.ReadAsync(service.Anybody);

        foreach (Operation operation in (await Operation.AllAsync(service.Anybody)).Where(each => each.Path.Contains('{', StringComparison.Ordinal)))
            schemas.Check(operation.Method, operation.Path, await operation.CallAsync(owner.Of(operation), _ => "not-there"));
    }

    [Fact]
    public async Task Every_refusal_to_read_is_answered_as_it_is_described()
    {
        Owner owner = await Owner.AddAsync(service);
        AnswerSchemas schemas = await AnswerSchemas.ReadAsync(service.Anybody);
        ApiClient weak = service.Anybody.With(await owner.Organisation.MakeKeyAsync("read-as-built"));

        foreach (Operation operation in (await Operation.AllAsync(service.Anybody)).Where(each => each.Scope is not null))
        {
            schemas.Check(operation.Method, operation.Path, await operation.CallAsync(service.Anybody, _ => "x"));
            if (operation.Scope != "read-as-built") schemas.Check(operation.Method, operation.Path, await operation.CallAsync(weak, _ => "x"));
        }
    }

    [Fact]
    public async Task Every_parameter_that_is_wrong_is_answered_as_it_is_described()
    {
        Owner owner = await Owner.AddAsync(service);
        AnswerSchemas schemas = await AnswerSchemas.ReadAsync(service.Anybody);

        foreach ((string path, string query) in ((string, string)[])
                 [
                     ("/v1/circuits", "phase=x"), ("/v1/circuits", "limit=x"), ("/v1/circuits", "cursor=%20"), ("/v1/alerts", "standing=x"),
                     ("/v1/sites", "limit=0"), ("/v1/changes", "after=x"), ("/v1/refused", "state=x"),
                     ("/v1/photos", "kind=x"), ("/v1/visits", "day=x"), ("/v1/visits", "state=x"),
                 ])
            schemas.Check("GET", path, await owner.Office.GetAsync($"{path}?{query}"));
        schemas.Check("GET", "/v1/circuits/{id}", await owner.Office.GetAsync($"/v1/circuits/{Owner.Mark}-circuit?asOf=x"));
        schemas.Check("GET", "/v1/circuits/{id}/readings", await owner.Office.GetAsync($"/v1/circuits/{Owner.Mark}-circuit/readings?limit=0"));
        schemas.Check("GET", "/v1/webhooks/{id}/deliveries", await owner.Office.GetAsync($"/v1/webhooks/{owner.WebhookId}/deliveries?state=x"));
    }

    [Fact]
    public async Task Every_change_is_answered_as_it_is_described()
    {
        Owner owner = await Owner.AddAsync(service);
        AnswerSchemas schemas = await AnswerSchemas.ReadAsync(service.Anybody);
        SentEvent good = owner.Device.Record(Some.SiteOpened());
        SentEvent bad = owner.Device.Record(Some.BoxSealed()).ChangeData(data => data.Remove("lie"));
        string[] scopes = ["read-status"];
        object note = new { note = "Seen." };

        schemas.Check("POST", "/v1/events", await owner.Device.PostAsync(good, good, bad));
        schemas.Check("POST", "/v1/events", await owner.Device.PostOneAsync(good));
        schemas.Check("POST", "/v1/events", await owner.Device.PostAsync("[]"));
        schemas.Check("POST", "/v1/events", await owner.Device.PostAsync("[]".PadRight(Envelope.MostBytes + 1)));
        schemas.Check("POST", "/v1/events", await owner.Device.Api.PostAsync("/v1/events", "[]", "text/plain"));
        schemas.Check("POST", "/v1/keys", await owner.Office.PostAsync("/v1/keys", new { name = "me", scopes }));
        schemas.Check("POST", "/v1/keys", await owner.Office.PostAsync("/v1/keys", new { name = "", scopes }));
        schemas.Check("POST", "/v1/webhooks", await owner.Office.PostAsync("/v1/webhooks", new { url = "https://example.org/told" }));
        schemas.Check("POST", "/v1/alerts/{id}/acknowledge", await owner.Office.PostAsync($"/v1/alerts/{owner.AlertId}/acknowledge", note));
        schemas.Check("POST", "/v1/webhooks/{id}/deliveries/{delivery}/retry", await owner.Office.PostAsync(
            $"/v1/webhooks/{owner.WebhookId}/deliveries/{owner.DeliveryId}/retry"));
        schemas.Check("POST", "/v1/refused/{id}/resubmit", await owner.Office.PostAsync(
            $"/v1/refused/{owner.RefusedId}/resubmit", bad.Text, Envelope.SingleMediaType));
        schemas.Check("POST", "/v1/refused/{id}/dismiss", await owner.Office.PostAsync($"/v1/refused/{owner.RefusedId}/dismiss", note));
        schemas.Check("POST", "/v1/refused/{id}/dismiss", await owner.Office.PostAsync($"/v1/refused/{owner.RefusedId}/dismiss", note));
        Picture picture = Picture.Of("described");
        schemas.Check("PUT", "/v1/attachments/{sha256}", await picture.SendAsync(owner.Device.Api));
        schemas.Check("PUT", "/v1/attachments/{sha256}", await picture.SendAsync(owner.Device.Api));
        schemas.Check("PUT", "/v1/attachments/{sha256}", await picture.SendAsync(owner.Device.Api, "image/jpeg"));
        object visit = new { day = "2041-06-02", siteId = "site-1" };
        string planned = (await owner.Office.PostAsync("/v1/visits", visit)).As<VisitView>().Id;
        schemas.Check("POST", "/v1/visits", await owner.Office.PostAsync("/v1/visits", visit));
        schemas.Check("POST", "/v1/visits", await owner.Office.PostAsync("/v1/visits", new { day = "2041-06-02", siteId = "site-1", source = "urn:none" }));
        schemas.Check("PUT", "/v1/visits/{id}", await owner.Office.PutAsync($"/v1/visits/{planned}", new { day = "2041-06-03", version = 1 }));
        schemas.Check("PUT", "/v1/visits/{id}", await owner.Office.PutAsync($"/v1/visits/{planned}", new { day = "2041-06-04", version = 1 }));
        schemas.Check("POST", "/v1/visits/{id}/done", await owner.Office.PostAsync($"/v1/visits/{planned}/done", note));
        schemas.Check("DELETE", "/v1/visits/{id}", await owner.Office.DeleteAsync($"/v1/visits/{planned}"));
        schemas.Check("DELETE", "/v1/visits/{id}", await owner.Office.DeleteAsync($"/v1/visits/{owner.VisitId}"));
        schemas.Check("DELETE", "/v1/webhooks/{id}", await owner.Office.DeleteAsync($"/v1/webhooks/{owner.WebhookId}"));
        schemas.Check("DELETE", "/v1/keys/{id}", await owner.Office.DeleteAsync($"/v1/keys/{owner.Device.Api.Key!.Split('.')[0]}"));
    }
}

using System.Diagnostics;
using System.Net;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Access;
using FleetLight.Service.Hosting;
using FleetLight.Service.Tests.Approvals;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Access;

/// <summary>Every operation that the OpenAPI document lists asks for a key with its scope, and those that do not are named.</summary>
public sealed class ScopeTests(FleetService service) : IClassFixture<FleetService>
{
    // Without 'administer', which allows more than itself.
    private static readonly string[] Scopes = [.. Enum.GetValues<Scope>().Where(scope => scope != Scope.Administer).Select(Problems.ScopeName)];

    [Fact]
    public async Task Only_what_watches_or_explains_the_service_is_open_to_everybody()
    {
        IEnumerable<Operation> open = (await Operation.AllAsync(service.Anybody)).Where(operation => operation.Scope is null);

        Assert.Equal(
            ["GET /asyncapi.json", "GET /health/live", "GET /health/ready", "GET /metrics", "GET /openapi/v1.json", "POST /v1/enrolments/exchange"],
            open.Select(operation => operation.ToString()).Order());
    }

    [Fact]
    public async Task The_operations_and_their_scopes_are_the_agreed_ones()
    {
        IEnumerable<string> all = (await Operation.AllAsync(service.Anybody)).Select(operation => $"{operation}: {operation.Scope ?? "everybody"}");

        Approved.Same("Operations", "all", new System.Text.Json.Nodes.JsonArray([.. all.Order().Select(each => System.Text.Json.Nodes.JsonValue.Create(each))]));
    }

    [Fact]
    public async Task Without_a_key_nothing_else_is_answered()
    {
        foreach (Operation operation in await GuardedAsync())
        {
            Answer answer = await operation.CallAsync(service.Anybody, _ => "x");

            Assert.True(answer.Status == HttpStatusCode.Unauthorized, $"{operation}: {answer.Status}");
            // Programs for maps ask a person for a name and a password.
            string[] schemes = operation.ToString().Contains(" /ogc", StringComparison.Ordinal) ? ["Bearer", "Basic"] : ["Bearer"];
            Assert.Equal(schemes, answer.Headers.WwwAuthenticate.Select(each => each.Scheme));
            Approved.Same("Access", "no key", answer);
        }
    }

    [Theory]
    [InlineData("nonsense")]
    [InlineData("0123456789ab.nonsense")]
    [InlineData("0123456789ab.")]
    [InlineData(".")]
    [InlineData("a.b.c")]
    public async Task A_key_that_nobody_made_opens_nothing(string key)
    {
        foreach (Operation operation in await GuardedAsync())
        {
            Answer answer = await operation.CallAsync(service.Anybody.With(key), _ => "x");

            Assert.True(answer.Status == HttpStatusCode.Unauthorized, $"{operation}: {answer.Status}");
            Approved.Same("Access", "an unknown key", answer);
        }
    }

    [Fact]
    public async Task A_key_with_every_scope_but_the_one_asked_for_opens_nothing()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        foreach (IGrouping<string, Operation> asking in (await GuardedAsync()).GroupBy(operation => operation.Scope!).Where(each => each.Key != Operation.AnyScope))
        {
            ApiClient others = service.Anybody.With(await organisation.MakeKeyAsync([.. Scopes.Where(scope => scope != asking.Key)]));
            foreach (Operation operation in asking)
            {
                Answer answer = await operation.CallAsync(others, _ => "x");

                Assert.True(answer.Status == HttpStatusCode.Forbidden, $"{operation}: {answer.Status}");
                Approved.Same("Access", $"without {asking.Key}", answer);
            }
        }
    }

    [Fact]
    public async Task A_key_with_the_one_scope_asked_for_gets_in()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        foreach (IGrouping<string, Operation> asking in (await GuardedAsync()).GroupBy(operation => operation.Scope!))
        {
            foreach (Operation operation in asking)
            {
                ApiClient api = service.Anybody.With(await organisation.MakeKeyAsync(asking.Key == Operation.AnyScope ? "read-as-built" : asking.Key));
                Answer answer = await operation.CallAsync(api, _ => "x");

                Assert.True(
                    answer.Status is HttpStatusCode.OK or HttpStatusCode.Created or HttpStatusCode.Accepted or HttpStatusCode.NotFound
                        or HttpStatusCode.BadRequest,
                    $"{operation}: {answer.Status}");
            }
        }
    }

    [Fact]
    public async Task A_revoked_key_opens_nothing_from_then_on()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        ApiClient api = service.Anybody.With(await organisation.MakeKeyAsync("read-status"));
        Assert.Equal(HttpStatusCode.OK, (await api.GetAsync("/v1/circuits")).Status);

        Answer revoked = await organisation.Office.DeleteAsync($"/v1/keys/{api.Key!.Split('.')[0]}");

        Assert.Equal(HttpStatusCode.NoContent, revoked.Status);
        Approved.Same("Access", "an unknown key", await api.GetAsync("/v1/circuits"));
    }

    [Fact]
    public async Task A_key_revoked_on_one_node_dies_on_the_others_long_before_they_would_forget_it()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        await using RunningService second = await service.StartSecondAsync();
        List<TimeSpan> took = [];
        for (int round = 0; round < 5; round++)
        {
            string key = await organisation.MakeKeyAsync("read-status");
            ApiClient there = second.Api.With(key);
            Assert.Equal(HttpStatusCode.OK, (await there.GetAsync("/v1/circuits")).Status);
            long began = Stopwatch.GetTimestamp();
            await organisation.Office.DeleteAsync($"/v1/keys/{key.Split('.')[0]}");
            while ((await there.GetAsync("/v1/circuits")).Status != HttpStatusCode.Unauthorized) await Task.Delay(1, TestContext.Current.CancellationToken);
            took.Add(Stopwatch.GetElapsedTime(began));
        }

        took.Sort();
        Assert.True(took[2] < KeyDirectory.Remembered / 2, $"The other node took {string.Join(", ", took)}.");
    }

    [Fact]
    public async Task A_stream_of_changes_tells_nothing_more_once_its_key_is_revoked()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        string key = await organisation.MakeKeyAsync("read-status");
        using HttpResponseMessage stream = await service.Anybody.With(key).StartAsync(HttpMethod.Get, "/v1/changes?after=now", null, ("Accept", "text/event-stream"));
        await organisation.Office.DeleteAsync($"/v1/keys/{key.Split('.')[0]}");

        await (await organisation.AddDeviceAsync()).TellAsync(Some.SiteOpened());
        string told = await stream.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);

        Assert.Contains("still-there", told, StringComparison.Ordinal);
        Assert.DoesNotContain(Some.Site, told, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Basic dXNlcjpwYXNz")]
    [InlineData("Bearer")]
    [InlineData("Bearer ")]
    [InlineData("")]
    public async Task An_authorization_of_another_kind_is_none(string header)
    {
        Answer answer = await service.Anybody.SendAsync(HttpMethod.Get, "/v1/circuits", null, ("Authorization", header));

        Assert.Equal(HttpStatusCode.Unauthorized, answer.Status);
        Assert.Equal(ProblemTypes.KeyMissing, answer.As<Problem>().Type);
    }

    [Fact]
    public async Task A_device_key_without_the_scope_to_read_cannot_read()
    {
        Device device = await (await service.AddOrganisationAsync()).AddDeviceAsync();

        Approved.Same("Access", "without read-status", await device.Api.GetAsync("/v1/circuits"));
    }

    [Fact]
    public async Task A_key_that_speaks_for_no_device_hands_nothing_in()
    {
        // The service makes no such key; one made by an earlier version may still be there.
        Organisation organisation = await service.AddOrganisationAsync();
        ApiClient api = service.Anybody.With(await organisation.MakeKeyAsync("post-events"));
        await service.QueryAsync<string>(
            "update fleetlight.mt_doc_keyrecord set data = data - 'source' where id = $1 returning id", api.Key!.Split('.')[0]);

        Approved.Same("Access", "no device", await api.GetAsync("/v1/devices/self/receipts"));
        Approved.Same("Access", "no device", await api.PostAsync("/v1/events", "[]", Envelope.BatchMediaType));
    }

    private async Task<Operation[]> GuardedAsync() =>
        [.. (await Operation.AllAsync(service.Anybody)).Where(operation => operation.Scope is not null)];
}

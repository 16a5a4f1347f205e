using System.Net;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Health;
using FleetLight.Service.Tests.Approvals;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Health;

/// <summary>The database goes away and comes back; the service says so, loses nothing and needs nobody's hand.</summary>
public sealed class OutageTests : IAsyncLifetime
{
    private readonly WiredService service = new();
    private Organisation organisation = null!;
    private Device device = null!;

    public async ValueTask InitializeAsync()
    {
        await service.InitializeAsync();
        organisation = await service.AddOrganisationAsync();
        device = await organisation.AddDeviceAsync();
        await device.TellAsync(Some.CircuitDesigned());
        await service.CaughtUpAsync();
    }

    public ValueTask DisposeAsync() => service.DisposeAsync();

    [Fact]
    public async Task Without_its_database_the_service_is_alive_and_not_ready()
    {
        service.CutDatabase();

        Answer ready = await Eventually.ReadAsync(
            () => service.Anybody.GetAsync("/health/ready"), answer => answer.Status == HttpStatusCode.ServiceUnavailable, "the service to be not ready");

        HealthView said = ready.As<HealthView>();
        Assert.Equal(("not-ready", "The database does not answer."), (said.Status, Assert.Single(said.Missing)));
        Assert.Equal(HttpStatusCode.OK, (await service.Anybody.GetAsync("/health/live")).Status);
    }

    [Fact]
    public async Task Without_its_database_nothing_is_taken_or_answered_and_the_device_is_told_to_come_back()
    {
        SentEvent sent = device.Record(Some.CablePulled());
        service.CutDatabase();

        Answer posted = await device.PostAsync(sent);
        Answer read = await organisation.Office.GetAsync("/v1/sites");

        Approved.Same("Outage", "no database", posted);
        Assert.Equal(TimeSpan.FromSeconds(2), posted.Headers.RetryAfter!.Delta);
        Approved.Same("Outage", "no database", read);
    }

    [Fact]
    public async Task A_key_that_has_to_be_looked_up_is_not_called_unknown_for_want_of_a_database()
    {
        string key = await organisation.MakeKeyAsync("read-status");
        service.CutDatabase();

        Approved.Same("Outage", "no database", await service.Anybody.With(key).GetAsync("/v1/circuits"));
    }

    [Fact]
    public async Task When_the_database_is_back_everything_goes_on_by_itself()
    {
        SentEvent sent = device.Record(Some.CablePulled());
        service.CutDatabase();
        Assert.Equal(HttpStatusCode.ServiceUnavailable, (await device.PostAsync(sent)).Status);

        service.MendDatabase();
        await Eventually.IsSoAsync(async () => (await device.PostAsync(sent)).Status == HttpStatusCode.OK, "the fact to be taken");

        // As a dashboard sees it: what this node remembered of before the outage must have gone.
        await Eventually.ReadAsync(
            async () => (await organisation.Office.ReadAsync<CircuitView>($"/v1/circuits/{Some.Circuit}")).Phase,
            phase => phase == CircuitPhase.Cabled, "the state to show it");
        Assert.Equal(2, (await device.ReceiptAsync()).CompleteThrough);
    }

    [Fact]
    public async Task Whatever_got_a_receipt_around_outages_is_there_and_there_once()
    {
        SentEvent[] facts = [.. Enumerable.Range(0, 120).Select(number => device.Record(Some.Reading(number)))];
        HashSet<string> withReceipt = [];
        using CancellationTokenSource enough = new();
        Task outages = Task.Run(async () =>
        {
            while (!enough.IsCancellationRequested)
            {
                // Cut while batches are on their way, wherever each happens to be; mended as soon as one has failed.
                int before = withReceipt.Count;
                await Eventually.IsSoAsync(() => enough.IsCancellationRequested || withReceipt.Count > before, "a batch to go through");
                service.CutDatabase();
                await Eventually.IsSoAsync(
                    async () => (await service.Anybody.GetAsync("/health/ready")).Status == HttpStatusCode.ServiceUnavailable, "the outage to show");
                service.MendDatabase();
            }
        }, TestContext.Current.CancellationToken);

        foreach (SentEvent[] batch in facts.Chunk(10))
        {
            Answer answer;
            do answer = await device.PostAsync(batch);
            while (answer.Status == HttpStatusCode.ServiceUnavailable);
            Assert.All(answer.Expect(HttpStatusCode.OK).As<BatchReceipt>().Outcomes, outcome => Assert.NotEqual(FactOutcome.Refused, outcome.Outcome));
            withReceipt.UnionWith(batch.Select(each => each.Id));
        }

        await enough.CancelAsync();
        await outages;
        await service.CaughtUpAsync();
        Assert.Equal(121, (await device.ReceiptAsync()).CompleteThrough);
        Assert.Equal([120L], await service.QueryAsync<long>(
            "select count(*) from fleetlight.mt_events where type = 'fleetlight.reading.taken.v1' and tenant_id = $1", organisation.Name));
        Assert.Equal([120L], await service.QueryAsync<long>(
            "select count(distinct data -> 'of' ->> 'id') from fleetlight.mt_events where type = 'fleetlight.reading.taken.v1' and tenant_id = $1", organisation.Name));
    }
}

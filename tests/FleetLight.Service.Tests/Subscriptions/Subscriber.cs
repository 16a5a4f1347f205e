using System.Net;
using System.Text.Json;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Subscriptions;
using FleetLight.Service.Tests.Alerts.Webhooks;
using FleetLight.Testing.Service;

namespace FleetLight.Service.Tests.Subscriptions;

/// <summary>An organisation with a device, and somebody who is told of it.</summary>
internal sealed record Subscriber(DeliveringService Service, Organisation Organisation, Device Device, Receiver Receiver, ApiClient Api, SubscriptionView Made) : IAsyncDisposable
{
    public string Path => $"/v1/subscriptions/{Made.Id}";

    public static async Task<Subscriber> AddAsync(DeliveringService service, object? filter = null, string? after = null, string[]? scopes = null)
    {
        Receiver receiver = await Receiver.StartAsync();
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        ApiClient api = scopes is null ? organisation.Office : service.Anybody.With(await organisation.MakeKeyAsync(scopes));
        SubscriptionView made = (await api.PostAsync("/v1/subscriptions", new { url = receiver.Url, filter, after }))
            .Expect(HttpStatusCode.Created).As<SubscriptionView>();
        return new Subscriber(service, organisation, device, receiver, api, made);
    }

    /// <summary>What was told and taken, in the order in which it came.</summary>
    public ToldEvent[] Told => [.. Receiver.Taken.Select(Event)];

    public static ToldEvent Event(Received received) => JsonSerializer.Deserialize<ToldEvent>(received.Body, WireJson.Lenient)!;

    public Task<SubscriptionView> ShowAsync() => Api.ReadAsync<SubscriptionView>(Path);

    public async Task<ParkedView[]> ParkedAsync() => [.. (await Api.ReadAsync<Page<ParkedView>>($"{Path}/parked")).Items];

    /// <summary>Waits until it was told all that there is.</summary>
    public async Task ToldAllAsync()
    {
        await Service.CaughtUpAsync();
        List<long> through = await Service.QueryAsync<long>("select through from fleetlight.fl_emitted where tenant_id = $1", Organisation.Name);
        await Eventually.ReadAsync(ShowAsync, shown => shown.Cursor == StreamPlace.EndOf(through.Single()).ToString(), "everything to be told");
    }

    public ValueTask DisposeAsync() => Receiver.DisposeAsync();
}

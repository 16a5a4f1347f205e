using System.Net;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Service.Alerts;
using FleetLight.Testing.Service;

namespace FleetLight.Service.Tests.Alerts.Webhooks;

/// <summary>An organisation with a device and a webhook to a receiver.</summary>
internal sealed record Listener(DeliveringService Service, Organisation Organisation, Device Device, Receiver Receiver, string Id, string Secret) : IAsyncDisposable
{
    public ApiClient Office => Organisation.Office;

    public static async Task<Listener> SubscribeAsync(DeliveringService service, params string[] rules)
    {
        Receiver receiver = await Receiver.StartAsync();
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        WebhookView made = (await organisation.Office.PostAsync("/v1/webhooks", new { url = receiver.Url, rules = rules.Length == 0 ? null : rules }))
            .Expect(HttpStatusCode.Created).As<WebhookView>();
        return new Listener(service, organisation, device, receiver, made.Id, made.Secret!);
    }

    public async Task TellAsync(params IFact[] facts)
    {
        await Device.TellAsync(facts);
        await Service.CaughtUpAsync();
    }

    public async Task<IReadOnlyList<Delivery>> DeliveriesAsync(string state = "") =>
        (await Office.ReadAsync<Page<Delivery>>($"/v1/webhooks/{Id}/deliveries?state={state}")).Items;

    /// <summary>The one delivery, as soon as it is as wanted.</summary>
    public Task<Delivery> DeliveryAsync(Func<Delivery, bool> wanted, string what) =>
        Eventually.ReadAsync(async () => (await DeliveriesAsync()).Single(), wanted, what);

    public ValueTask DisposeAsync() => Receiver.DisposeAsync();
}

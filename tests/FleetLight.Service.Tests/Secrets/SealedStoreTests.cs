using System.Globalization;
using System.Net;
using FleetLight.Contracts.Views;
using FleetLight.Service.Alerts;
using FleetLight.Service.Secrets;
using FleetLight.Service.Tests.Alerts.Webhooks;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Microsoft.Extensions.DependencyInjection;
using StandardWebhooks;
using Xunit;

namespace FleetLight.Service.Tests.Secrets;

/// <summary>A service whose master secret a test changes between two starts.</summary>
public sealed class ResealedService() : FleetService(DateTimeOffset.UtcNow.AddMinutes(2))
{
    public const string Second = "YW5vdGhlciBtYXN0ZXIgc2VjcmV0LCB3aGljaCBpcyBsb25nZXI=";

    /// <summary>The master secrets: the one that seals, then those that only open. None where the service makes its own.</summary>
    public string[] Masters { get; set; } = [RunningService.MasterSecret];

    public string OwnFile => Path.Combine(Path.GetDirectoryName(FirstKeyFile)!, MasterSecret.FileName);

    protected override IEnumerable<KeyValuePair<string, string?>> Settings =>
    [
        new("Webhooks:MasterSecret", Masters.FirstOrDefault() ?? ""),
        .. Masters.Skip(1).Select((master, index) => new KeyValuePair<string, string?>($"Webhooks:OtherMasterSecrets:{index}", master)),
    ];

    protected override void Configure(IServiceCollection services) => services.AddSingleton(DeliveringService.Options);
}

public sealed class SealedStoreTests : IAsyncLifetime
{
    private readonly ResealedService service = new();
    private Receiver receiver = null!;

    public async ValueTask InitializeAsync()
    {
        await service.InitializeAsync();
        receiver = await Receiver.StartAsync();
    }

    public async ValueTask DisposeAsync()
    {
        await receiver.DisposeAsync();
        await service.DisposeAsync();
    }

    [Fact]
    public async Task No_secret_that_signs_stands_in_the_database_or_in_a_log_line()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        WebhookView webhook = await MakeWebhookAsync(organisation);
        SubscriptionView subscription = (await organisation.Office.PostAsync("/v1/subscriptions", new { url = receiver.Url })).Expect(HttpStatusCode.Created)
            .As<SubscriptionView>();
        string replaced = (string)(await organisation.Office.PostAsync($"/v1/webhooks/{webhook.Id}/secret")).Json["secret"]!;
        string other = (string)(await organisation.Office.PostAsync($"/v1/subscriptions/{subscription.Id}/secret")).Json["secret"]!;

        string database = await Rows.AllAsync(service);

        Assert.Contains(webhook.Id, database, StringComparison.Ordinal);
        Assert.Contains(subscription.Id, database, StringComparison.Ordinal);
        string[] secrets = [webhook.Secret!, subscription.Secret!, replaced, other, RunningService.MasterSecret];
        Assert.Equal(secrets.Length, secrets.Distinct().Count());
        foreach (string secret in secrets.Select(secret => secret.Replace("whsec_", "", StringComparison.Ordinal)))
        {
            Assert.DoesNotContain(secret, database, StringComparison.Ordinal);
            Assert.DoesNotContain(Convert.ToHexString(Convert.FromBase64String(secret)), database, StringComparison.OrdinalIgnoreCase);
            Assert.DoesNotContain(service.Log.All, line => line.Text.Contains(secret, StringComparison.Ordinal));
        }
    }

    [Fact]
    public async Task A_secret_that_an_earlier_version_kept_readable_is_sealed_at_the_start_and_signs_on()
    {
        const string kept = "whsec_YW4gZWFybGllciB2ZXJzaW9uIGtlcHQgaXQgcmVhZGFibGU=";
        Organisation organisation = await service.AddOrganisationAsync();
        WebhookView webhook = await MakeWebhookAsync(organisation);
        await service.StopAsync();
        await service.QueryAsync<string>(
            "update fleetlight.mt_doc_webhook set data = data - 'sealed' || jsonb_build_object('secret', $2) where id = $1 returning id", webhook.Id, kept);
        Assert.Contains(kept, await Rows.AllAsync(service), StringComparison.Ordinal);

        await service.StartAsync();

        Assert.DoesNotContain(kept[6..], await Rows.AllAsync(service), StringComparison.Ordinal);
        await TellsSignedAsync(organisation, kept);
    }

    [Fact]
    public async Task Masters_are_changed_in_steps_and_everything_signs_on()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        WebhookView webhook = await MakeWebhookAsync(organisation);
        string first = await SealedAsync(webhook);

        service.Masters = [RunningService.MasterSecret, ResealedService.Second];
        await service.RestartAsync();
        Assert.Equal(first, await SealedAsync(webhook));
        service.Masters = [ResealedService.Second, RunningService.MasterSecret];
        await service.RestartAsync();
        Assert.NotEqual(first, await SealedAsync(webhook));
        service.Masters = [ResealedService.Second];
        await service.RestartAsync();

        await TellsSignedAsync(organisation, webhook.Secret!);
        Assert.Empty((await service.Anybody.GetAsync("/health/ready")).As<Service.Health.HealthView>().Missing);
    }

    [Fact]
    public async Task A_node_that_cannot_open_a_secret_says_so_and_leaves_its_deliveries_alone()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        WebhookView webhook = await MakeWebhookAsync(organisation);
        Device device = await organisation.AddDeviceAsync();

        service.Masters = [ResealedService.Second];
        await service.RestartAsync();
        await new Device(service.Anybody.With(device.Api.Key), device.Source).TellAsync(Some.BoxSealed(gelFilled: false));
        await service.CaughtUpAsync();

        string missing = Assert.Single((await service.Anybody.GetAsync("/health/ready")).As<Service.Health.HealthView>().Missing);
        Assert.Contains("Webhooks__MasterSecret", missing, StringComparison.Ordinal);
        await Task.Delay(500, TestContext.Current.CancellationToken);
        Assert.Empty(receiver.All);

        service.Masters = [RunningService.MasterSecret];
        await service.RestartAsync();
        service.Clock.Advance(DeliveringService.Options.LeaseFor);
        await receiver.TookAsync(1);
        new StandardWebhook(webhook.Secret!).Verify(receiver.All.Single().Body, receiver.All.Single().Headers);
    }

    [Fact]
    public async Task Without_a_master_secret_the_node_makes_one_that_only_it_can_read_and_says_so()
    {
        service.Masters = [];
        await service.RestartAsync();
        Organisation organisation = await service.AddOrganisationAsync();
        WebhookView webhook = await MakeWebhookAsync(organisation);
        string made = await File.ReadAllTextAsync(service.OwnFile, TestContext.Current.CancellationToken);

        await service.RestartAsync();

        Assert.Equal(made, await File.ReadAllTextAsync(service.OwnFile, TestContext.Current.CancellationToken));
        if (!OperatingSystem.IsWindows()) Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(service.OwnFile));
        Service.Health.HealthView health = (await service.Anybody.GetAsync("/health/ready")).As<Service.Health.HealthView>();
        Assert.Contains(MasterSecret.FileName, Assert.Single(health.Notes!), StringComparison.Ordinal);
        Assert.Empty(health.Missing);
        Assert.Contains(service.Log.All, line => line.Text.Contains(MasterSecret.FileName, StringComparison.Ordinal));
        Assert.DoesNotContain(made.Trim(), await Rows.AllAsync(service), StringComparison.Ordinal);
        await TellsSignedAsync(organisation, webhook.Secret!);

        // One that is configured later opens what the own one sealed, and seals it anew.
        service.Masters = [ResealedService.Second];
        await service.RestartAsync();
        File.Delete(service.OwnFile);
        await service.RestartAsync();
        Assert.Empty((await service.Anybody.GetAsync("/health/ready")).As<Service.Health.HealthView>().Missing);
    }

    [Fact]
    public async Task A_master_secret_that_is_none_ends_the_start_with_a_word()
    {
        await service.StopAsync();
        service.Masters = ["too short"];

        InvalidOperationException refused = await Assert.ThrowsAsync<InvalidOperationException>(service.StartAsync);

        Assert.Contains("openssl rand -base64 32", refused.Message, StringComparison.Ordinal);
        service.Masters = [RunningService.MasterSecret];
        await service.StartAsync();
    }

    [Fact]
    public async Task A_replaced_secret_signs_beside_the_new_one_for_a_day()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        WebhookView webhook = await MakeWebhookAsync(organisation);

        ReplacedSecret replaced = (await organisation.Office.PostAsync($"/v1/webhooks/{webhook.Id}/secret")).Expect(HttpStatusCode.OK).As<ReplacedSecret>();

        Assert.Equal(service.Clock.Now.AddDays(1), replaced.BeforeUntil);
        await TellsSignedAsync(organisation, replaced.Secret);
        Received told = receiver.All.Single();
        DateTimeOffset sentAt = DateTimeOffset.FromUnixTimeSeconds(long.Parse(told.Headers["webhook-timestamp"].ToString(), CultureInfo.InvariantCulture));
        Assert.Equal(
            new[] { replaced.Secret, webhook.Secret! }.Select(secret => new StandardWebhook(secret).Sign(told.Id, sentAt, told.Body)),
            told.Headers["webhook-signature"].ToString().Split(' '));
    }

    private async Task<WebhookView> MakeWebhookAsync(Organisation organisation) =>
        (await organisation.At(service.Anybody).Office.PostAsync("/v1/webhooks", new { url = receiver.Url })).Expect(HttpStatusCode.Created).As<WebhookView>();

    private async Task<string> SealedAsync(WebhookView webhook) => (await service.QueryAsync<string>(
        "select data ->> 'sealed' from fleetlight.mt_doc_webhook where id = $1", webhook.Id)).Single();

    private async Task TellsSignedAsync(Organisation organisation, params string[] secrets)
    {
        Device device = await organisation.At(service.Anybody).AddDeviceAsync();
        await device.TellAsync(Some.BoxSealed(gelFilled: false));
        await receiver.TookAsync(1);
        foreach (string secret in secrets) new StandardWebhook(secret).Verify(receiver.All.Single().Body, receiver.All.Single().Headers);
    }
}

using System.Net;
using System.Text.Json.Nodes;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Postgres;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Deploy.Tests.Running;

/// <summary>
/// The service as a process of its own, as it is run in production: secrets out of files, log lines as JSON, traces and
/// measures sent to a collector. One fact has gone all its way to a webhook.
/// </summary>
public sealed class WatchedService : IAsyncLifetime
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("fleetlight-watched-");
    private TestDatabase? database;
    private Node? node;
    private string? office;

    /// <summary>Takes what the service sends to its collector, and stands for a webhook's receiver too.</summary>
    public Catcher Catcher { get; } = new();

    /// <summary>Calls without a key.</summary>
    public ApiClient Anybody => node!.Anybody;

    /// <summary>The fact that caused an alert, as <c>source#id</c>.</summary>
    public string Fact { get; private set; } = "";

    /// <summary>Secrets that no line may show.</summary>
    public List<string> Secrets { get; } = [];

    /// <summary>The log lines so far; every one has to be a JSON object.</summary>
    public JsonObject[] Log => node!.Log;

    /// <inheritdoc/>
    public async ValueTask InitializeAsync()
    {
        database = await TestDatabase.CreateAsync();
        await Catcher.StartAsync();
        string secrets = folder.CreateSubdirectory("secrets").FullName;
        await File.WriteAllTextAsync(Path.Combine(secrets, "ConnectionStrings__FleetLight"), database.ConnectionString + "\n");
        node = await Node.StartAsync(Path.Combine(folder.FullName, "data"), new Dictionary<string, string>
        {
            ["FLEETLIGHT_SECRETS"] = secrets,
            ["OTEL_EXPORTER_OTLP_ENDPOINT"] = Catcher.Address,
            ["OTEL_EXPORTER_OTLP_PROTOCOL"] = "http/protobuf",
            ["OTEL_BSP_SCHEDULE_DELAY"] = "200",
            ["OTEL_METRIC_EXPORT_INTERVAL"] = "1000",
        });
        await SendOneFactAsync();
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        if (node is not null) await node.DisposeAsync();
        await Catcher.DisposeAsync();
        if (database is not null) await database.DisposeAsync();
        folder.Delete(recursive: true);
    }

    /// <summary>Follows the change feed as a stream.</summary>
    public async Task FollowAsync(CancellationToken cancel)
    {
        using HttpRequestMessage request = new(HttpMethod.Get, "/v1/changes");
        request.Headers.Add("Authorization", $"Bearer {office}");
        request.Headers.Add("Accept", "text/event-stream");
        using HttpResponseMessage answer = await node!.Http.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, cancel);
        await using Stream stream = await answer.Content.ReadAsStreamAsync(cancel);
        await stream.CopyToAsync(Stream.Null, cancel);
    }

    /// <summary>Asks the running service whether it is ready, as the image's health check does.</summary>
    internal Task<Ended> AskHealthAsync(string? port = null) => Tool.RunAsync(
        TimeSpan.FromMinutes(1), "dotnet", [Node.Assembly, "health"], null, ("ASPNETCORE_HTTP_PORTS", port ?? $"{node!.Http.BaseAddress!.Port}"));

    private async Task SendOneFactAsync()
    {
        string first = await node!.FirstKeyAsync();
        Organisation organisation = await Organisation.CreateAsync(Anybody.With(first));
        office = organisation.Office.Key;
        Device device = await organisation.AddDeviceAsync("urn:device:watched");
        JsonNode webhook = (await organisation.Office.PostAsync("/v1/webhooks", new { url = Catcher.Address + "/told" })).Expect(HttpStatusCode.Created).Json;
        Secrets.AddRange([first.Split('.')[1], organisation.Office.Key!.Split('.')[1], device.Api.Key!.Split('.')[1], (string)webhook["secret"]!]);
        // That of a container is a word that spans hold for other reasons.
        string password = new Npgsql.NpgsqlConnectionStringBuilder(database!.ConnectionString).Password!;
        Secrets.Add(password.Length >= 12 ? password : $"Password={password}");
        SentEvent sent = device.Record(Facts.BoxSealed(gelFilled: false));
        await device.SendAsync(sent, device.Record(CircuitFacts.Designed()));
        Fact = $"{device.Source}#{sent.Id}";
        await Eventually.IsSoAsync(() => Catcher.Paths.Contains("/told"), "the webhook to be told");
        (await organisation.Office.GetAsync($"/v1/circuits/{Facts.Circuit}")).Expect(HttpStatusCode.OK);
    }
}

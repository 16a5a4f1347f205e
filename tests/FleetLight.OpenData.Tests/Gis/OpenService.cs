using System.Net;
using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.OpenData.Features;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.OpenData.Tests.Gis;

/// <summary>The service as a process with two sites in it, one north and one south, some of it with positions and some without.</summary>
public sealed class OpenService : IAsyncLifetime
{
    /// <summary>Boxes that stand in a row, so that programs have to turn pages.</summary>
    public const int Row = 1_050;

    public const string Hostile = "<b onclick=\"x\">&'";

    private StartedService service = null!;

    public Organisation Organisation { get; private set; } = null!;

    public Device Device { get; private set; } = null!;

    public ApiClient Api => Organisation.Office;

    public ApiClient Host { get; private set; } = null!;

    public string ConnectionString => service.ConnectionString;

    public string Root => $"{service.Url}ogc";

    public async ValueTask InitializeAsync()
    {
        service = await StartedService.StartAsync(TestContext.Current.CancellationToken);
        Host = await service.HostAsync();
        Organisation = await Organisation.CreateAsync(Host);
        Device = await Organisation.AddDeviceAsync();
        await Device.TellAsync(
            Facts.SiteOpened("yard", "Yard") with { Position = At(10, 51) },
            Facts.DuctLaid("d1", length: 30, siteId: "yard") with { Route = Along([10, 51], [10.0003, 51.0001]) },
            Facts.DuctLaid("d2", length: 12, siteId: "yard"),
            Facts.DuctLaid("d3", length: 50, colour: DuctColour.Red, siteId: "yard") with { Route = Along([10.0003, 51.0001], [10.0005, 51.0004, 87.5], [10.0009, 51.0004]) },
            Facts.DuctLabelled("d1", Hostile, siteId: "yard"),
            Facts.CablePulled("k1", ["d1", "d3"], 82, siteId: "yard", cores: [Facts.Core("brown", "c1"), Facts.Core("blue", "c1")]),
            Facts.CablePulled("k2", ["d2"], 13, siteId: "yard", cores: [Facts.Core("brown", "c1"), Facts.Core("blue", "c1")]),
            Facts.BoxSealed("b1", gelFilled: false, label: "B1", siteId: "yard") with { Position = At(10.0003, 51.0001, 88) },
            Facts.BoxSealed("b2", siteId: "yard"),
            CircuitFacts.Designed("c1", siteId: "yard", runs: [CircuitFacts.Run("R1", "driver", "F1", cableId: "k1"), CircuitFacts.Run("R2", "F1", "F2", cableId: "k2")]),
            CircuitFacts.Connected(circuitId: "c1", siteId: "yard") with { Position = At(10, 51), At = "cabinet" },
            CircuitFacts.Fixed("F1", circuitId: "c1", siteId: "yard") with { Position = At(10.0009, 51.0004) },
            CircuitFacts.Reading(9.5, circuitId: "c1", siteId: "yard"),
            CircuitFacts.Reading(349, ReadingQuantity.Milliamps, circuitId: "c1", siteId: "yard"),
            CircuitFacts.Reading(4.5, place: ReadingPlaceKind.Fitting, placeId: "F1", circuitId: "c1", siteId: "yard"),
            CircuitFacts.Reading(5.5, place: ReadingPlaceKind.Box, placeId: "b1", circuitId: "c1", siteId: "yard"),
            CircuitFacts.Reading(4.7, place: ReadingPlaceKind.Fitting, placeId: "F2", circuitId: "c1", siteId: "yard"),
            Facts.SiteOpened("far", "Far") with { Position = At(151.2, -33.9) },
            Facts.DuctLaid("e1", length: 40, siteId: "far") with { Route = Along([151.2, -33.9], [151.2004, -33.9001]) },
            CircuitFacts.Designed("c2", siteId: "far", runs: [CircuitFacts.Run("R1", "driver", "F1"), CircuitFacts.Run("R2", "F1", "F2")]));
        IFact[] row = [.. Enumerable.Range(0, Row).Select(n => Facts.BoxSealed($"row-{n:D4}", label: $"R{n}", siteId: "yard") with { Position = At(10.001 + (n * 1e-5), 51.001) })];
        foreach (IFact[] batch in row.Chunk(500)) await Device.TellAsync(batch);
        await CaughtUpAsync();
    }

    public async ValueTask DisposeAsync()
    {
        if (service is not null) await service.DisposeAsync();
    }

    public Task CaughtUpAsync() => Eventually.IsSoAsync(
        async () => (await Host.GetAsync("/health/ready")).Json["projectionBehind"]!.GetValue<long>() == 0
            && (await Api.GetAsync("/ogc/collections/boxes/items?limit=1")) is { Status: HttpStatusCode.OK } boxes && boxes.Json["numberMatched"]!.GetValue<long>() >= Row + 2
            && (await Api.GetAsync("/ogc/collections/readings/items")).Json["numberMatched"]!.GetValue<long>() >= 5,
        "the states");

    /// <summary>Every feature that a request finds, page by page.</summary>
    public async Task<List<JsonNode>> AllAsync(string collection, string query = "")
    {
        List<JsonNode> all = [];
        string? next = $"/ogc/collections/{collection}/items?limit=400{query}";
        while (next is not null)
        {
            JsonNode page = (await Api.GetAsync(next)).Expect(HttpStatusCode.OK).Json;
            all.AddRange(page["features"]!.AsArray().Select(each => each!));
            Assert.Equal(page["features"]!.AsArray().Count, (int)page["numberReturned"]!);
            next = page["links"]!.AsArray().FirstOrDefault(link => (string)link!["rel"]! == "next") is { } link ? new Uri((string)link["href"]!).PathAndQuery : null;
        }

        return all;
    }

    public static string[] Ids(IEnumerable<JsonNode> features) => [.. features.Select(each => (string)each["id"]!).Order(StringComparer.Ordinal)];

    private static GeoPoint At(params double[] at) => new() { Type = "Point", Coordinates = at };

    private static GeoLine Along(params double[][] route) => new() { Type = "LineString", Coordinates = route };

    /// <summary>The ids of all collections.</summary>
    public static IReadOnlyList<string> Collections { get; } = [.. FeatureKinds.All.Select(kind => kind.Id)];
}

using System.Text.Json;
using System.Text.Json.Nodes;
using FleetLight.Client;
using FleetLight.Contracts.Views;
using FleetLight.Office.Dossiers;
using FleetLight.PageParts.SitePages;

namespace FleetLight.Office.Sites;

/// <summary>What the page of a site shows as it stands now. What was built by a day is read beside it.</summary>
public sealed record SiteRecord
{
    private const int MostFacts = 5000;
    private const int MostCircuits = 500;

    /// <summary>Its state; none where no fact describes the site itself.</summary>
    public SiteView? View { get; init; }

    /// <summary>Its circuits.</summary>
    public IReadOnlyList<CircuitLine> Circuits { get; init; } = [];

    /// <summary>What is missing; none where the service does not tell it.</summary>
    public OpenPointsView? OpenPoints { get; init; }

    /// <summary>What it takes of material.</summary>
    public MaterialsView? Materials { get; init; }

    /// <summary>The facts of the site with their data, the oldest first.</summary>
    public IReadOnlyList<FactView> Facts { get; init; } = [];

    /// <summary>Whether these are all its facts.</summary>
    public bool FactsAreWhole => Facts.Count is > 0 and < MostFacts;

    /// <summary>Photos taken on it.</summary>
    public IReadOnlyList<PhotoView> Photos { get; init; } = [];

    /// <summary>Whether there is such a site at all.</summary>
    public bool Exists => View is not null || Circuits.Count > 0;

    /// <summary>Reads it.</summary>
    public static async Task<SiteRecord> ReadAsync(FleetLightClient client, string id, CancellationToken cancel)
    {
        var escaped = Uri.EscapeDataString(id);
        var view = client.FindAsync<SiteView>($"v1/sites/{escaped}", cancel);
        var circuits = ToListAsync(client.ListAsync<CircuitLine>($"v1/circuits?site={escaped}&limit=500", MostCircuits, cancel));
        var points = client.FindAsync<OpenPointsView>($"v1/sites/{escaped}/open-points", cancel);
        var materials = client.FindAsync<MaterialsView>($"v1/sites/{escaped}/materials", cancel);
        var facts = ToListAsync(client.ListAsync<FactView>($"v1/facts?site={escaped}&limit=1000", MostFacts, cancel));
        var photos = ToListAsync(client.ListAsync<PhotoView>($"v1/photos?site={escaped}&limit=24", 24, cancel));
        await Task.WhenAll(view, circuits, points, materials, facts, photos);
        return new SiteRecord
        {
            View = await view,
            Circuits = await circuits,
            OpenPoints = await points,
            Materials = await materials,
            Facts = await facts,
            Photos = await photos,
        };
    }

    /// <summary>What was built by a time; nothing where nothing was.</summary>
    /// <param name="client">The calls.</param>
    /// <param name="id">The site.</param>
    /// <param name="asOf">The time, as the API takes it; now where absent.</param>
    /// <param name="cancel">Ends it.</param>
    public static async Task<AsBuiltSite> BuiltAsync(FleetLightClient client, string id, string? asOf, CancellationToken cancel)
    {
        var path = $"v1/sites/{Uri.EscapeDataString(id)}/as-built{(asOf is null ? "" : $"?asOf={Uri.EscapeDataString(asOf)}")}";
        return await client.FindAsync<JsonNode>(path, cancel) is { } collection ? AsBuiltSite.Of(collection.Deserialize<JsonElement>()) : new AsBuiltSite();
    }

    private static async Task<IReadOnlyList<T>> ToListAsync<T>(IAsyncEnumerable<T> source)
    {
        var list = new List<T>();
        await foreach (var item in source) list.Add(item);
        return list;
    }
}

using FleetLight.Client;
using FleetLight.Client.Reading;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Office.Dossiers;
using FleetLight.Record.Calculations;
using FleetLight.Record.Checks;

namespace FleetLight.Office.Circuits;

/// <summary>Everything that the page of a circuit shows.</summary>
public sealed record CircuitRecord
{
    // What is listed on one page; a list says where it ends.
    private const int MostReadings = 500;
    private const int MostFacts = 500;

    // A day in the past is folded here out of the facts of the site; of a site with more it is left out.
    private const int MostSiteFacts = 5000;

    /// <summary>Its state.</summary>
    public required CircuitView View { get; init; }

    /// <summary>Whether it is of a day in the past.</summary>
    public bool IsPast { get; init; }

    /// <summary>The circuit as built; none for a day in the past of a site with very many facts.</summary>
    public CircuitModelView? Model { get; init; }

    /// <summary>What it should read with the uncertainty budget of each figure; none where that cannot be said.</summary>
    public ExpectedFigures? Budget { get; init; }

    /// <summary>Its readings, newest first.</summary>
    public IReadOnlyList<RecordedReading> Readings { get; init; } = [];

    /// <summary>Its cables.</summary>
    public IReadOnlyList<CableView> Cables { get; init; } = [];

    /// <summary>Its boxes.</summary>
    public IReadOnlyList<BoxView> Boxes { get; init; } = [];

    /// <summary>Its facts with their data, as recorded; none where the service does not tell them.</summary>
    public IReadOnlyList<FactView> Facts { get; init; } = [];

    /// <summary>Its newest design.</summary>
    public CircuitDesigned? Design { get; init; }

    /// <summary>Photos of it.</summary>
    public IReadOnlyList<PhotoView> Photos { get; init; } = [];

    /// <summary>What it takes of material; none where there is no design.</summary>
    public MaterialsView? Materials { get; init; }

    /// <summary>What the rules find on it and on what it leans on.</summary>
    public IReadOnlyList<AlertView> Alerts { get; init; } = [];

    /// <summary>Reads all of it; none where there is no such circuit.</summary>
    /// <param name="client">The calls.</param>
    /// <param name="id">The circuit.</param>
    /// <param name="asOf">The time as of which it is read, as the API takes it; now where absent.</param>
    /// <param name="cancel">Ends it.</param>
    public static async Task<CircuitRecord?> ReadAsync(FleetLightClient client, string id, string? asOf, CancellationToken cancel)
    {
        var escaped = Uri.EscapeDataString(id);
        var view = await client.FindAsync<CircuitView>($"v1/circuits/{escaped}{(asOf is null ? "" : $"?asOf={Uri.EscapeDataString(asOf)}")}", cancel);
        if (view is null) return null;
        if (asOf is not null) return await ReadPastAsync(client, view, asOf, cancel);
        var model = client.FindAsync<CircuitModelView>($"v1/circuits/{escaped}/model", cancel);
        var readings = ToListAsync(client.ListAsync<RecordedReading>($"v1/circuits/{escaped}/readings?limit=500", MostReadings, cancel));
        var facts = ToListAsync(client.ListAsync<FactView>($"v1/facts?kind=circuit&thing={escaped}&limit=500", MostFacts, cancel));
        var photos = ToListAsync(client.ListAsync<PhotoView>($"v1/photos?kind=circuit&thing={escaped}&limit=24", 24, cancel));
        var alerts = ToListAsync(client.ListAsync<AlertView>($"v1/alerts?circuit={escaped}&limit=100", 100, cancel));
        var materials = client.FindAsync<MaterialsView>($"v1/circuits/{escaped}/materials", cancel);
        var design = client.FindAsync<CircuitDesigned>($"v1/circuits/{escaped}/design", cancel);
        var cables = Task.WhenAll(view.CableIds.Select(cable => client.Status.CableAsync(cable, cancel)));
        var boxes = Task.WhenAll(view.BoxIds.Select(box => client.Status.BoxAsync(box, cancel)));
        await Task.WhenAll(model, readings, facts, photos, alerts, materials, design, cables, boxes);
        return new CircuitRecord
        {
            View = view,
            Model = await model,
            Budget = BudgetOf(await model),
            Readings = await readings,
            Facts = await facts,
            Photos = await photos,
            Alerts = await alerts,
            Materials = await materials,
            Design = await design,
            Cables = [.. (await cables).OfType<CableView>()],
            Boxes = [.. (await boxes).OfType<BoxView>()],
        };
    }

    // Of a day in the past the service tells the state; the rest is folded here, by the same rules, out of what it tells of the site.
    private static async Task<CircuitRecord> ReadPastAsync(FleetLightClient client, CircuitView view, string asOf, CancellationToken cancel)
    {
        var escaped = Uri.EscapeDataString(view.Id);
        var until = DateTimeOffset.Parse(asOf, System.Globalization.CultureInfo.InvariantCulture);
        var readings = ToListAsync(client.ListAsync<RecordedReading>($"v1/circuits/{escaped}/readings?limit=500", MostReadings, cancel));
        var facts = ToListAsync(client.ListAsync<FactView>($"v1/facts?kind=circuit&thing={escaped}&limit=500", MostFacts, cancel));
        var photos = ToListAsync(client.ListAsync<PhotoView>($"v1/photos?kind=circuit&thing={escaped}&limit=24", 24, cancel));
        var judging = client.FindAsync<JudgingView>("v1/judging", cancel);
        var ofSite = view.SiteId is { } site
            ? await ToListAsync(client.ListAsync<FactView>($"v1/facts?site={Uri.EscapeDataString(site)}&limit=1000", MostSiteFacts, cancel)) : [];
        await Task.WhenAll(readings, facts, photos, judging);
        var past = view.SiteId is null || ofSite.Count == MostSiteFacts ? null : PageParts.SitePages.PastSite.Of(view.SiteId, ofSite, await judging, until);
        var model = past?.ModelOf(view.Id);
        return new CircuitRecord
        {
            View = view,
            IsPast = true,
            Model = model,
            Budget = BudgetOf(model),
            Readings = [.. (await readings).Where(reading => reading.HappenedAt <= until)],
            Facts = [.. (await facts).Where(fact => fact.HappenedAt <= until)],
            Photos = [.. (await photos).Where(photo => photo.TakenAt <= until)],
            Materials = past?.MaterialsOf(view.Id),
            Design = past?.DesignOf(view.Id),
            Cables = [.. (past?.States.Cables ?? []).Where(cable => view.CableIds.Contains(cable.Id))],
            Boxes = [.. (past?.States.Boxes ?? []).Where(box => view.BoxIds.Contains(box.Id))],
        };
    }

    // Worked out here by the service's own function: the state leaves budgets out, which nobody polls for.
    private static ExpectedFigures? BudgetOf(CircuitModelView? model)
    {
        if (model?.Circuit is not { } circuit || model.Missing.Count > 0) return null;
        var request = new ExpectedRequest { Circuit = circuit, Assumptions = model.Assumptions, PartBudgets = true };
        return RequestCheck.Check(request).Count > 0 ? null : CalculateExpected.Answer(request).Answer?.Expected;
    }

    private static async Task<IReadOnlyList<T>> ToListAsync<T>(IAsyncEnumerable<T> source)
    {
        var list = new List<T>();
        await foreach (var item in source) list.Add(item);
        return list;
    }
}

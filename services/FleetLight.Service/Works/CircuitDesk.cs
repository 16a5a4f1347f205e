using FleetLight.Contracts;
using FleetLight.Record.Circuits;
using FleetLight.Service.Circuits;
using Marten;

namespace FleetLight.Service.Works;

/// <summary>Folds circuits whose facts, or what they lean on, changed, and judges those that were read.</summary>
public sealed class CircuitDesk(
    IDocumentOperations operations, string organisation, LinkRows links, StateSet states, FileSet files, ReadingRows readings, Emission emission,
    BasisCache cache)
{
    /// <summary>Runs for the circuits to be folded again and for those that were read.</summary>
    public async Task RunAsync(IReadOnlyList<string> folded, CancellationToken cancel)
    {
        var all = folded.Union(readings.Circuits, StringComparer.Ordinal).Order(StringComparer.Ordinal).ToArray();
        if (all.Length == 0) return;
        var before = (await operations.LoadManyAsync<CircuitDocument>(cancel, all)).ToDictionary(document => document.Id, StringComparer.Ordinal);
        // A circuit that was read before anything else was known of it is folded from nothing.
        var bases = await FoldAsync([.. folded.Union(all.Where(id => !before.ContainsKey(id)), StringComparer.Ordinal)], cancel);
        foreach (var (id, basis) in bases)
        {
            cache.Add(organisation, basis);
            if (before.GetValueOrDefault(id)?.BasisStamp == basis.Stamp) continue;
            operations.Store(new BasisDocument { Id = id, SiteId = basis.Basis.SiteId, Basis = basis.Basis, Stamp = basis.Stamp });
        }

        await RecallAsync(before.Values.Where(document => !bases.ContainsKey(document.Id)), bases, cancel);
        foreach (var id in all)
        {
            var old = before.GetValueOrDefault(id);
            var basis = bases[id];
            var window = await readings.WindowAsync(id, old?.Window ?? ReadingWindow.Empty, cancel);
            if (old is not null && old.BasisStamp == basis.Stamp && old.Window.Equals(window)) continue;
            var view = CircuitJudge.Judge(basis.Basis, window);
            operations.Store(CircuitDocument.Of(view, basis, window));
            emission.Changed(ThingKind.Circuit, id, view.SiteId, old?.Findings ?? [], view.Findings,
                [.. files.FactsOf(ThingKeys.Of(ThingKind.Circuit, id)), .. readings.FactsOf(id)]);
        }
    }

    // What was read only is judged on the basis that it had: remembered, or loaded.
    private async Task RecallAsync(IEnumerable<CircuitDocument> documents, Dictionary<string, StampedBasis> bases, CancellationToken cancel)
    {
        var missing = new List<string>();
        foreach (var document in documents)
        {
            if (cache.Find(organisation, document.Id, document.BasisStamp) is { } known) bases[document.Id] = known;
            else missing.Add(document.Id);
        }

        if (missing.Count == 0) return;
        foreach (var loaded in await operations.LoadManyAsync<BasisDocument>(cancel, missing))
        {
            bases[loaded.Id] = new StampedBasis(loaded.Basis, loaded.Stamp);
            cache.Add(organisation, bases[loaded.Id]);
        }
    }

    private async Task<Dictionary<string, StampedBasis>> FoldAsync(IReadOnlyList<string> circuits, CancellationToken cancel)
    {
        if (circuits.Count == 0) return new Dictionary<string, StampedBasis>(StringComparer.Ordinal);
        var keys = circuits.Select(id => ThingKeys.Of(ThingKind.Circuit, id)).ToArray();
        await files.LoadAsync(keys, cancel);
        var direct = await links.LeadingToAsync(keys, cancel);
        // What leads to a cable or a box: ducts, and ids that turned out to mean the same thing; then what leads to those.
        var indirect = await links.LeadingToAsync([.. direct.Select(edge => edge.From)], cancel);
        indirect.UnionWith(await links.LeadingToAsync([.. indirect.Select(edge => edge.From)], cancel));
        var around = direct.Concat(indirect).Select(edge => edge.From).ToArray();
        await states.CablesAsync(Ids(around, ThingKind.Cable), cancel);
        await states.BoxesAsync(Ids(around, ThingKind.Box), cancel);
        await states.DuctsAsync(Ids(around, ThingKind.Duct), cancel);

        var into = direct.Concat(indirect).ToLookup(edge => edge.To, edge => edge.From, StringComparer.Ordinal);
        var bases = new Dictionary<string, StampedBasis>(StringComparer.Ordinal);
        foreach (var id in circuits)
        {
            var key = ThingKeys.Of(ThingKind.Circuit, id);
            var cables = Ids(into[key].Concat(into[key].SelectMany(from => into[from])), ThingKind.Cable);
            var neighbours = new CircuitNeighbours(
                [.. await states.CablesAsync(cables, cancel)],
                [.. await states.DuctsAsync(Ids(cables.SelectMany(cable => into[ThingKeys.Of(ThingKind.Cable, cable)]), ThingKind.Duct), cancel)],
                [.. await states.BoxesAsync(Ids(into[key].Concat(into[key].SelectMany(from => into[from])), ThingKind.Box), cancel)]);
            bases[id] = StampedBasis.Of(CircuitBasisFold.Fold(files[key], neighbours));
        }

        return bases;
    }

    private static string[] Ids(IEnumerable<string> keys, ThingKind kind) =>
        [.. keys.Select(ThingKeys.Read).Where(thing => thing.Kind == kind).Select(thing => thing.Id).Distinct(StringComparer.Ordinal)];
}

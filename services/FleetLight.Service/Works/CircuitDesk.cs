using System.Diagnostics;
using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Service.Circuits;
using FleetLight.Service.Hosting;

namespace FleetLight.Service.Works;

/// <summary>Folds circuits whose facts, or what they lean on, changed, and judges those that were read.</summary>
public sealed class CircuitDesk(
    PageWrites writes, PageParts parts, string organisation, StateRows kept, StateSet states, FileSet files, ReadingRows readings,
    Emission emission, IReadOnlyDictionary<ThingRef, string> leftAlone)
{
    /// <summary>Runs for the circuits to be folded again and for those that were read.</summary>
    public async Task RunAsync(IReadOnlyList<string> folded, CancellationToken cancel)
    {
        var all = folded.Union(readings.Circuits, StringComparer.Ordinal)
            .Where(id => !leftAlone.ContainsKey(Named(id))).Order(StringComparer.Ordinal).ToArray();
        if (all.Length == 0) return;
        using var span = Tracing.Source.StartActivity("judge circuits");
        span?.SetTag("fleetlight.circuits", all.Length);
        var before = await CircuitRows.LoadAsync(parts.Database, organisation, all, cancel);
        var rows = new List<CircuitRow>(all.Length);
        var foldedAnew = folded.ToHashSet(StringComparer.Ordinal);
        var bases = await RecallAsync(before.Values.Where(row => !foldedAnew.Contains(row.Line.Id)), cancel);
        // A circuit that was read before anything else was known of it is folded from nothing, and one whose basis an earlier
        // version worked out is folded by this one.
        string[] anew = [.. all.Where(id => bases.GetValueOrDefault(id)?.Basis.ModelVersion != Electrics.Expected.ModelVersion)];
        foreach (var (id, fresh) in await states.BasesAsync(anew, cancel))
        {
            var basis = bases[id] = StampedBasis.Of(fresh);
            parts.Cache.Add(organisation, basis);
            if (before.GetValueOrDefault(id)?.BasisStamp == basis.Stamp) continue;
            kept.Keep(StateKinds.Basis, id, basis.Basis.SiteId, basis);
        }

        foreach (var id in all)
        {
            var old = before.GetValueOrDefault(id);
            var basis = bases[id];
            var recent = await readings.RecentAsync(id, old?.Recent ?? RecentReadings.Empty, cancel);
            if (old is not null && old.BasisStamp == basis.Stamp && old.Recent.SaysTheSame(recent)) continue;
            var began = Stopwatch.GetTimestamp();
            var view = FoldException.Naming(Named(id), () => parts.Folds.Judge(basis.Basis, recent, old?.Judged));
            parts.Watch.Metrics.Judged(Stopwatch.GetElapsedTime(began), explained: false);
            rows.Add(CircuitRow.Of(view, basis, recent));
            emission.Changed(ThingKind.Circuit, id, view.SiteId, old?.Findings ?? [], view.Findings,
                [.. files.FactsOf(Named(id)), .. readings.FactsOf(id)]);
        }

        CircuitRows.Save(writes, organisation, rows);
    }

    private static ThingRef Named(string id) => new(ThingKind.Circuit, id);

    // What was read only is judged on the basis that it had: remembered, or loaded.
    private async Task<Dictionary<string, StampedBasis>> RecallAsync(IEnumerable<CircuitRow> rows, CancellationToken cancel)
    {
        var bases = new Dictionary<string, StampedBasis>(StringComparer.Ordinal);
        var missing = new List<string>();
        foreach (var row in rows)
        {
            if (parts.Cache.Find(organisation, row.Line.Id, row.BasisStamp) is { } known) bases[row.Line.Id] = known;
            else missing.Add(row.Line.Id);
        }

        if (missing.Count == 0) return bases;
        foreach (var (id, loaded) in await kept.LoadAsync<StampedBasis>(StateKinds.Basis, missing, cancel))
        {
            bases[id] = loaded;
            parts.Cache.Add(organisation, loaded);
        }

        return bases;
    }
}

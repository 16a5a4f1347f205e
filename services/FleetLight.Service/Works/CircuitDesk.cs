using System.Diagnostics;
using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;
using FleetLight.Service.Circuits;
using FleetLight.Service.Hosting;
using Marten;
using Npgsql;

namespace FleetLight.Service.Works;

/// <summary>Folds circuits whose facts, or what they lean on, changed, and judges those that were read.</summary>
public sealed class CircuitDesk(
    IDocumentOperations operations, NpgsqlDataSource database, string organisation, StateRows kept, StateSet states, FileSet files,
    ReadingRows readings, Emission emission, BasisCache cache, WorksMetrics metrics)
{
    /// <summary>Runs for the circuits to be folded again and for those that were read.</summary>
    public async Task RunAsync(IReadOnlyList<string> folded, CancellationToken cancel)
    {
        var all = folded.Union(readings.Circuits, StringComparer.Ordinal).Order(StringComparer.Ordinal).ToArray();
        if (all.Length == 0) return;
        using var span = Tracing.Source.StartActivity("judge circuits");
        span?.SetTag("fleetlight.circuits", all.Length);
        var before = await CircuitRows.LoadAsync(database, organisation, all, cancel);
        var rows = new List<CircuitRow>(all.Length);
        var foldedAnew = folded.ToHashSet(StringComparer.Ordinal);
        var bases = await RecallAsync(before.Values.Where(row => !foldedAnew.Contains(row.Line.Id)), cancel);
        // A circuit that was read before anything else was known of it is folded from nothing, and one whose basis an earlier
        // version worked out is folded by this one.
        string[] anew = [.. all.Where(id => bases.GetValueOrDefault(id)?.Basis.ModelVersion != Electrics.Expected.ModelVersion)];
        foreach (var (id, fresh) in await states.BasesAsync(anew, cancel))
        {
            var basis = bases[id] = StampedBasis.Of(fresh);
            cache.Add(organisation, basis);
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
            var view = CircuitJudge.Judge(basis.Basis, recent.Window, old?.Judged, explains: false, recent.History);
            metrics.Judged(Stopwatch.GetElapsedTime(began), explained: false);
            rows.Add(CircuitRow.Of(view, basis, recent));
            emission.Changed(ThingKind.Circuit, id, view.SiteId, old?.Findings ?? [], view.Findings,
                [.. files.FactsOf(new ThingRef(ThingKind.Circuit, id)), .. readings.FactsOf(id)]);
        }

        CircuitRows.Save(operations, organisation, rows);
    }

    // What was read only is judged on the basis that it had: remembered, or loaded.
    private async Task<Dictionary<string, StampedBasis>> RecallAsync(IEnumerable<CircuitRow> rows, CancellationToken cancel)
    {
        var bases = new Dictionary<string, StampedBasis>(StringComparer.Ordinal);
        var missing = new List<string>();
        foreach (var row in rows)
        {
            if (cache.Find(organisation, row.Line.Id, row.BasisStamp) is { } known) bases[row.Line.Id] = known;
            else missing.Add(row.Line.Id);
        }

        if (missing.Count == 0) return bases;
        foreach (var (id, loaded) in await kept.LoadAsync<StampedBasis>(StateKinds.Basis, missing, cancel))
        {
            bases[id] = loaded;
            cache.Add(organisation, loaded);
        }

        return bases;
    }
}

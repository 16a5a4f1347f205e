using System.Diagnostics;
using FleetLight.Service.Store;
using JasperFx.Events;
using JasperFx.Events.Projections;
using Marten;
using Marten.Events.Projections;

namespace FleetLight.Service.Works;

/// <summary>
/// The projection that keeps every state: facts go into the files of the things they touch, the files that changed are
/// folded again by the pure core, and so are those that lean on them; circuits are judged, and what changed is emitted as
/// changes, alerts and deliveries in the same transaction. Marten's daemon runs it on one node at a time, page by page in
/// the order of the store.
/// </summary>
public sealed class WorksProjection(PageParts parts, WorksMetrics metrics, ILogger<WorksProjection> log) : IProjection
{
    /// <summary>Name of the projection in the store.</summary>
    public const string Name = "works";

    private readonly TellingOnce tellings = new();

    /// <summary>How the daemon feeds it, and what a rebuild throws away.</summary>
    public static void Tune(AsyncOptions options)
    {
        // The larger the page, the more facts share one fold and one write of a thing's state.
        options.BatchSize = 10_000;
        options.DeleteViewTypeOnTeardown<AlertDocument>();
        // Whether the lists of facts are whole does not change by it: it fills them from the first fact on.
        foreach (var table in Tables.OfStates.Where(table => table != Tables.FactsWholeName))
            options.DeleteDataInTableOnTeardown($"{Tables.Schema}.{table}");
        // Events that cannot be read are found again.
        options.DeleteDataInTableOnTeardown(DeadLetters.Table);
    }

    /// <inheritdoc/>
    public async Task ApplyAsync(IDocumentOperations operations, IReadOnlyList<IEvent> events, CancellationToken cancellation)
    {
        foreach (var tenant in events.GroupBy(each => each.TenantId, StringComparer.Ordinal))
        {
            IEvent[] own = [.. tenant];
            var began = Stopwatch.GetTimestamp();
            using var span = parts.Watch.Start(tenant.Key, own);
            // What was handed over and comes again was not committed. Where that was for what it holds, it would never be.
            var careful = new CarefulPage(parts, operations, tenant.Key, own, triesWrites: tellings.IsAgain(tenant.Key, own[0].Sequence), log);
            var page = await careful.RunAsync(cancellation);
            page.Save(operations);
            var telling = tellings.HandOver(tenant.Key, own[0].Sequence);
            page.TellOf(telling);
            parts.Watch.Projected(tenant.Key, page, own, telling.CountNew(own.Select(each => each.Sequence)), Stopwatch.GetElapsedTime(began));
            metrics.SetAside(careful.Asides, telling);
        }
    }
}

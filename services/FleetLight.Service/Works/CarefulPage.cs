using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Store;
using JasperFx.Events;
using Marten;

namespace FleetLight.Service.Works;

/// <summary>
/// Runs a page; where it fails by itself, finds the piece that makes it fail, sets that aside and runs the rest. A piece is
/// found by trying beginnings of the page, half as long each time: the last fact of the shortest beginning that fails is the
/// one. A thing whose fold fails on what was recorded before keeps the state that it had: then no fact of this page is at fault.
/// </summary>
/// <param name="parts">What every page uses.</param>
/// <param name="operations">What the page is saved with.</param>
/// <param name="organisation">The organisation.</param>
/// <param name="events">The events of the page.</param>
/// <param name="triesWrites">Whether the database is asked, before it counts, if it takes what the page writes: that costs as much again.</param>
/// <param name="log">Tells what is set aside.</param>
public sealed class CarefulPage(
    PageParts parts, IDocumentOperations operations, string organisation, IReadOnlyList<IEvent> events, bool triesWrites, ILogger log)
{
    // A thing that fails with ever more facts is better left as it was than searched for each of them.
    private const int MostForOneThing = 3;

    // A database that refuses more has a reason that no fact is to blame for.
    private const int MostRefused = 20;

    private readonly SetAsides asides = new();
    private int refused;
    private List<(Guid Id, Guid? EventId, ThingRef? Thing)> open = [];

    /// <summary>What was set aside.</summary>
    public SetAsides Asides => asides;

    /// <summary>Runs it.</summary>
    /// <returns>The page as it went well.</returns>
    public async Task<WorksPage> RunAsync(CancellationToken cancel)
    {
        open = await SetAsideRows.OpenAsync(parts.Database, organisation, cancel);
        var units = await UnitsAsync(cancel);
        while (true)
        {
            var rest = asides.Without(units);
            try
            {
                return await TryAsync(rest, cancel);
            }
            catch (Exception fault) when (Poison.Is(fault, cancel))
            {
                await BlameAsync(rest, fault, cancel);
            }
        }
    }

    private async Task<WorksPage> TryAsync(IReadOnlyList<PageUnit> units, CancellationToken cancel)
    {
        var page = new WorksPage(parts, operations, organisation, events, units, asides, open);
        await page.RunAsync(cancel);
        if (triesWrites) await PageTrial.RunAsync(page, operations.DocumentStore, parts.Database, organisation, cancel);
        return page;
    }

    private async Task BlameAsync(PageUnit[] units, Exception fault, CancellationToken cancel)
    {
        if (fault is FoldException { Thing: var thing } && (asides.CountFor(thing) >= MostForOneThing || await FailsWithoutThemAsync(thing, cancel)))
        {
            asides.Add(thing, Poison.Words(fault));
            log.LogError(fault, "{Thing} of {Organisation} cannot be folded and keeps the state that it had", ThingKeys.Of(thing), organisation);
            return;
        }

        if (fault is RefusedWriteException) await MindAsync(fault, cancel);
        var (unit, last) = await FindAsync(units, fault, cancel);
        asides.Add(unit, (last as FoldException)?.Thing, Poison.Words(last));
        log.LogError(last, "Event {Event} of {Organisation} is set aside: the projection cannot take it in", unit.Id, organisation);
    }

    // Where it is refused without any fact, or with ever more of them, none is to blame: then the projection stands still and says so.
    private async Task MindAsync(Exception fault, CancellationToken cancel)
    {
        if (refused++ == 0) await TryAsync([], cancel);
        if (refused > MostRefused) throw new InvalidOperationException("The database refuses more of a page than a few facts.", fault);
    }

    private async Task<bool> FailsWithoutThemAsync(ThingRef thing, CancellationToken cancel)
    {
        if (asides.Things.ContainsKey(thing)) return false;
        try
        {
            await TryAsync([PageUnit.Again(thing)], cancel);
            return false;
        }
        catch (FoldException fault) when (fault.Thing == thing && Poison.Is(fault, cancel))
        {
            return true;
        }
        catch (Exception fault) when (Poison.Is(fault, cancel))
        {
            return false;
        }
    }

    private async Task<(PageUnit Unit, Exception Fault)> FindAsync(PageUnit[] units, Exception fault, CancellationToken cancel)
    {
        if (fault is FactException { EventId: var id } && units.FirstOrDefault(unit => unit.Id == id) is { } named) return (named, fault);
        var (good, bad) = (0, units.Length);
        while (bad - good > 1)
        {
            var middle = (good + bad) / 2;
            try
            {
                await TryAsync(units[..middle], cancel);
                good = middle;
            }
            catch (Exception earlier) when (Poison.Is(earlier, cancel))
            {
                (bad, fault) = (middle, earlier);
            }
        }

        return bad > 0 ? (units[bad - 1], fault) : throw new InvalidOperationException("A page without any event failed.", fault);
    }

    // The page's events, and what they ask to be taken in again, as far as it is still set aside.
    private async Task<List<PageUnit>> UnitsAsync(CancellationToken cancel)
    {
        var units = new List<PageUnit>(events.Count);
        foreach (var each in events)
        {
            units.Add(PageUnit.Of(each));
            if (each.Data is not ToTakeInAgain again) continue;
            foreach (var id in again.Events)
                if (await FactAsync(id, cancel) is { } fact) units.Add(PageUnit.Again(id, fact));
            var things = again.Things.Select(ThingKeys.Read).ToHashSet();
            units.AddRange(open.Where(row => row.EventId is null && row.Thing is not null && things.Contains(row.Thing))
                .Select(row => PageUnit.Again(row.Thing!)));
        }

        return units;
    }

    private async Task<RecordedFact?> FactAsync(Guid id, CancellationToken cancel)
    {
        if (open.TrueForAll(row => row.EventId != id) && !await DeadLetters.HoldAsync(parts.Database, organisation, id, cancel)) return null;
        try
        {
            return (await operations.Events.LoadAsync(id, cancel))?.Data is IKept kept ? new RecordedFact(kept.Of, kept.Fact) : null;
        }
        catch (Exception fault) when (Poison.Is(fault, cancel))
        {
            log.LogError(fault, "Event {Event} of {Organisation} can still not be read", id, organisation);
            return null;
        }
    }
}

using System.Collections.Concurrent;

namespace FleetLight.Service.Works;

/// <summary>
/// Remembers of each organisation the page that was handed over last. A page whose transaction did not hold comes again, and begins with
/// the same event; what was told of it is not told again.
/// </summary>
public sealed class TellingOnce
{
    private readonly ConcurrentDictionary<string, Telling> last = new(StringComparer.Ordinal);

    /// <summary>Whether a page that begins there was handed over before.</summary>
    public bool IsAgain(string organisation, long first) => last.TryGetValue(organisation, out var before) && before.First == first;

    /// <summary>A page is handed over; answers what was told of it before.</summary>
    public Telling HandOver(string organisation, long first) =>
        last.AddOrUpdate(organisation, _ => new Telling(first), (_, before) => before.First == first ? before : new Telling(first));
}

/// <summary>What was told of a page. Not for several threads.</summary>
/// <param name="first">Its first event's place.</param>
public sealed class Telling(long first)
{
    private readonly HashSet<string> told = new(StringComparer.Ordinal);
    private long through = first - 1;

    /// <summary>Its first event's place.</summary>
    public long First => first;

    /// <summary>Whether that is told for the first time.</summary>
    public bool IsNew(string what) => told.Add(what);

    /// <summary>How many events at these places, which rise, are told for the first time.</summary>
    public int CountNew(IEnumerable<long> places)
    {
        var before = through;
        var count = 0;
        foreach (var place in places.Where(place => place > before))
        {
            count++;
            through = Math.Max(through, place);
        }

        return count;
    }
}

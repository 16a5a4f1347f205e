using FleetLight.OpenData.Features;
using Npgsql;

namespace FleetLight.Service.OpenData;

/// <summary>A page of features.</summary>
/// <param name="Rows">The features.</param>
/// <param name="Next">Where the next page begins; none at the end.</param>
/// <param name="Previous">Where the page before this one ends; none at the beginning.</param>
/// <param name="Matched">How many there are altogether, where that was counted.</param>
public sealed record FeaturePage(IReadOnlyList<FeatureRow> Rows, PagePlace? Next, PagePlace? Previous, long? Matched = null);

/// <summary>Reads features by the page. What the store cannot be asked is asked of each feature; a page ends where that costs too much.</summary>
public static class FeaturePages
{
    // Features looked at for one page, and for counting.
    private const int MostLookedAt = 20_000;
    private const int MostCounted = 5_000;
    private const int MostCountedByStore = 1_000_000;

    // On a page that is no first one, whose first one may have said the number.
    private const int MostCountedAgain = 20_000;

    /// <summary>Where the features of a collection are.</summary>
    public static IFeatureSource SourceOf(FeatureKind kind, NpgsqlDataSource database, string organisation) =>
        kind == FeatureKinds.Readings ? new ReadingFeatures(database, organisation) : new IndexedFeatures(database, organisation);

    /// <summary>A page, not counted yet.</summary>
    public static Task<FeaturePage> ReadAsync(IFeatureSource source, FeatureQuestion question, PagePlace place, int limit, CancellationToken cancel) =>
        place.IsEnd ? BackAsync(source, question, place.Key, limit, cancel) : OnAsync(source, question, place.Key, limit, cancel);

    /// <summary>How many features answer the question; none where counting them costs too much.</summary>
    /// <param name="source">Where they are.</param>
    /// <param name="question">The question.</param>
    /// <param name="isFirst">Whether it is for a first page, which may take longer.</param>
    /// <param name="cancel">Cancels.</param>
    public static async Task<long?> CountAsync(IFeatureSource source, FeatureQuestion question, bool isFirst, CancellationToken cancel)
    {
        if (await source.CountAsync(question, isFirst ? MostCountedByStore : MostCountedAgain, cancel) is { } counted) return counted;
        if (!isFirst || question.Test is null || !await source.AreFewAsync(question, MostCounted, cancel)) return null;
        var candidates = await source.AfterAsync(question, "", MostCounted + 1, cancel);
        return candidates.Count > MostCounted || candidates is [.., { Row: null }] ? null : candidates.LongCount(each => question.Finds(each.Row!));
    }

    private static async Task<FeaturePage> OnAsync(IFeatureSource source, FeatureQuestion question, string after, int limit, CancellationToken cancel)
    {
        var rows = new List<FeatureRow>();
        var (key, lookedAt, next, ended) = (after, 0, (string?)null, false);
        while (next is null && !ended)
        {
            var most = question.Test is null ? limit + 1 - rows.Count : Math.Max(200, 2 * limit);
            var found = await source.AfterAsync(question, key, most, cancel);
            foreach (var each in found)
            {
                if (each.Row is { } row && question.Finds(row))
                {
                    if (rows.Count == limit)
                    {
                        next = key;
                        break;
                    }

                    rows.Add(row);
                }

                key = each.Key;
            }

            lookedAt += found.Count;
            // A key without a feature says that there may be more behind it.
            var more = found.Count >= most || found is [.., { Row: null }];
            if (next is null && more && (lookedAt >= MostLookedAt || found is [.., { Row: null }])) next = key;
            ended = !more;
        }

        return new FeaturePage(rows, next is null ? null : PagePlace.After(next), after.Length == 0 ? null : PagePlace.Until(after));
    }

    // The last of a piece is left for the next one, or for the page before this: so every place is one behind a key, whichever way pages are turned.
    private static async Task<FeaturePage> BackAsync(IFeatureSource source, FeatureQuestion question, string until, int limit, CancellationToken cancel)
    {
        var rows = new List<FeatureRow>();
        var (key, lookedAt, previous, ended) = (until, 0, (string?)null, false);
        while (previous is null && !ended)
        {
            var most = question.Test is null ? limit + 1 : Math.Max(200, 2 * limit);
            var found = await source.UntilAsync(question, key, most, cancel);
            var more = found.Count >= most || found is [.., { Row: null }];
            foreach (var each in more ? found.Take(found.Count - 1) : found)
            {
                if (each.Row is not { } row || !question.Finds(row)) continue;
                if (rows.Count == limit)
                {
                    previous = each.Key;
                    break;
                }

                rows.Add(row);
            }

            lookedAt += found.Count;
            ended = !more;
            if (!more || previous is not null) continue;
            key = found[^1].Key;
            if (question.Test is null || lookedAt >= MostLookedAt || found[^1].Row is null) previous = key;
        }

        rows.Reverse();
        return new FeaturePage(rows, PagePlace.After(until), previous is null ? null : PagePlace.Until(previous));
    }

    /// <summary>All features that are asked for, a piece at a time.</summary>
    public static async IAsyncEnumerable<FeatureRow> AllAsync(
        IFeatureSource source, FeatureQuestion question, [System.Runtime.CompilerServices.EnumeratorCancellation] CancellationToken cancel)
    {
        const int piece = 1_000;
        var (key, more) = ("", true);
        while (more)
        {
            var found = await source.AfterAsync(question, key, piece, cancel);
            foreach (var each in found)
            {
                key = each.Key;
                if (each.Row is { } row && question.Finds(row)) yield return row;
            }

            more = found.Count >= piece || found is [.., { Row: null }];
        }
    }
}

using FleetLight.OpenData.Features;
using Npgsql;

namespace FleetLight.Service.OpenData;

/// <summary>A page of features.</summary>
/// <param name="Rows">The features.</param>
/// <param name="Next">The key after which the next page begins; none at the end.</param>
/// <param name="Matched">How many there are altogether, where that was counted.</param>
public sealed record FeaturePage(IReadOnlyList<FeatureRow> Rows, string? Next, long? Matched);

/// <summary>Reads features by the page. What the store cannot be asked is asked of each feature; a page ends where that costs too much.</summary>
public static class FeaturePages
{
    // Features looked at for one page, and for counting.
    private const int MostLookedAt = 20_000;
    private const int MostCounted = 5_000;
    private const int MostCountedByStore = 1_000_000;

    /// <summary>Where the features of a collection are.</summary>
    public static IFeatureSource SourceOf(FeatureKind kind, NpgsqlDataSource database, string organisation) =>
        kind == FeatureKinds.Readings ? new ReadingFeatures(database, organisation) : new IndexedFeatures(database, organisation);

    /// <summary>A page.</summary>
    public static async Task<FeaturePage> ReadAsync(IFeatureSource source, FeatureQuestion question, string after, int limit, CancellationToken cancel)
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

        var matched = next is null && after.Length == 0 ? rows.Count : await CountAsync(source, question, cancel);
        return new FeaturePage(rows, next, matched);
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

    private static async Task<long?> CountAsync(IFeatureSource source, FeatureQuestion question, CancellationToken cancel)
    {
        if (await source.CountAsync(question, MostCountedByStore, cancel) is { } counted) return counted;
        if (question.Test is null || !await source.AreFewAsync(question, MostCounted, cancel)) return null;
        var candidates = await source.AfterAsync(question, "", MostCounted + 1, cancel);
        return candidates.Count > MostCounted || candidates is [.., { Row: null }] ? null : candidates.LongCount(each => question.Finds(each.Row!));
    }
}

using System.Runtime.CompilerServices;
using System.Text.Json;
using FleetLight.Client;
using FleetLight.Contracts.Wire;

namespace FleetLight.Office.Dossiers;

/// <summary>Reads what is at a path of the API.</summary>
internal static class AnyRead
{
    /// <summary>What is there; none where there is no such thing, where too little is recorded for it, and where this key may not read it.</summary>
    public static async Task<T?> FindAsync<T>(this FleetLightClient client, string path, CancellationToken cancel) where T : class
    {
        try
        {
            return await client.Status.RawAsync(path, cancel) is { } bytes ? JsonSerializer.Deserialize<T>(bytes, WireJson.Lenient) : null;
        }
        catch (ProblemException problem) when (problem.Status is 403 or 409)
        {
            return null;
        }
    }

    /// <summary>The members of a list, page after page, at most so many.</summary>
    public static async IAsyncEnumerable<T> ListAsync<T>(this FleetLightClient client, string path, int most, [EnumeratorCancellation] CancellationToken cancel)
    {
        var (cursor, count) = ((string?)null, 0);
        do
        {
            var mark = path.Contains('?', StringComparison.Ordinal) ? '&' : '?';
            var page = await client.FindAsync<AnyPage<T>>(cursor is null ? path : $"{path}{mark}cursor={Uri.EscapeDataString(cursor)}", cancel);
            foreach (var item in page?.Items ?? [])
            {
                if (count++ == most) yield break;
                yield return item;
            }

            cursor = page is { More: not false } ? page.Next : null;
        }
        while (cursor is not null);
    }

    // A list of facts gives a cursor at its end too, and says so.
    private sealed record AnyPage<T>
    {
        public IReadOnlyList<T> Items { get; init; } = [];

        public string? Next { get; init; }

        public bool? More { get; init; }
    }
}

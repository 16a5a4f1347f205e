using FleetLight.Service.Store;
using Microsoft.Extensions.Caching.Memory;
using Npgsql;

namespace FleetLight.Service.OpenData;

/// <summary>
/// Remembers how many features a question finds, as long as nothing of the organisation has changed: whoever turns pages has them counted
/// once, and never gets a number that is no longer so.
/// </summary>
public sealed class FeatureCounts(NpgsqlDataSource database) : IDisposable
{
    private static readonly TimeSpan Keep = TimeSpan.FromMinutes(15);

    private readonly MemoryCache counts = new(new MemoryCacheOptions { SizeLimit = 2_000 });

    /// <summary>The number, remembered or counted.</summary>
    /// <param name="organisation">Whose features.</param>
    /// <param name="selection">What names the question.</param>
    /// <param name="count">Counts; none where that costs too much.</param>
    /// <param name="cancel">Cancels.</param>
    public async Task<long?> OfAsync(string organisation, string selection, Func<CancellationToken, Task<long?>> count, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(count);
        var stamp = await StampAsync(organisation, cancel);
        var key = (organisation, selection, stamp);
        if (counts.TryGetValue(key, out long known)) return known;
        var counted = await count(cancel);
        // What was counted while something changed is of neither time.
        if (counted is { } number && stamp == await StampAsync(organisation, cancel))
            counts.Set(key, number, new MemoryCacheEntryOptions { Size = 1, SlidingExpiration = Keep });
        return counted;
    }

    /// <inheritdoc/>
    public void Dispose() => counts.Dispose();

    // The tables of states, the newest change of them, and how far the features have followed: one of these moves with every feature and reading.
    private async Task<string> StampAsync(string organisation, CancellationToken cancel)
    {
        await using var command = database.CreateCommand(
            $"""
            select concat_ws(' ', 'fl_state'::regclass::oid,
              (select concat_ws('-', position, ordinal) from {Tables.Schema}.fl_change where tenant_id = $1 order by position desc, ordinal desc limit 1),
              (select concat_ws('-', edition, position, ordinal, filling) from {Tables.Schema}.fl_feature_place where tenant_id = $1))
            """);
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        return (string)(await command.ExecuteScalarAsync(cancel))!;
    }
}

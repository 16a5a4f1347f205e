using System.Globalization;
using FleetLight.Contracts.Views;
using FleetLight.Service.Store;
using Npgsql;

namespace FleetLight.Service.Sync;

/// <summary>A place in the change feed: the sequence of an event, and the place among the changes behind it.</summary>
/// <param name="Position">Sequence of the newest event behind the change.</param>
/// <param name="Ordinal">Place among the changes of that position.</param>
public readonly record struct FeedCursor(long Position, int Ordinal)
{
    /// <summary>Header of status answers, and of requests for them: through which place of the feed the caller has seen states.</summary>
    public const string SeenThroughHeader = "Seen-Through";

    /// <summary>Before everything.</summary>
    public static FeedCursor Start { get; } = new(0, -1);

    /// <summary>After everything at a position.</summary>
    public static FeedCursor EndOf(long position) => new(position, int.MaxValue);

    /// <summary>Reads a cursor as it was given out.</summary>
    public static bool TryParse(string? text, out FeedCursor cursor)
    {
        cursor = Start;
        if (string.IsNullOrEmpty(text)) return true;
        var parts = text.Split('-');
        if (parts.Length != 2
            || !long.TryParse(parts[0], NumberStyles.None, CultureInfo.InvariantCulture, out var position)
            || !int.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out var ordinal))
            return false;
        cursor = new FeedCursor(position, ordinal);
        return true;
    }

    /// <inheritdoc/>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Position}-{Math.Max(Ordinal, 0)}");
}

/// <summary>A change of any organisation.</summary>
/// <param name="Organisation">The tenant.</param>
/// <param name="Cursor">Its place.</param>
/// <param name="Kind">Kind of thing.</param>
/// <param name="Id">The thing.</param>
/// <param name="SiteId">Its site.</param>
public sealed record FeedChange(string Organisation, FeedCursor Cursor, string Kind, string Id, string? SiteId)
{
    /// <summary>As it is shown.</summary>
    public ChangeView ToView() => new() { Cursor = Cursor.ToString(), Kind = Kind, Id = Id, SiteId = SiteId };
}

/// <summary>Reads the change feed.</summary>
public sealed class ChangeFeed(NpgsqlDataSource database)
{
    // Few enough that a planner without statistics walks the index instead of sorting the table.
    private const int Few = 500;

    private const string Columns = $"select tenant_id, position, ordinal, kind, thing_id, site_id from {Tables.Schema}.fl_change";

    /// <summary>An organisation's changes after a cursor, oldest first.</summary>
    public Task<List<FeedChange>> AfterAsync(string organisation, FeedCursor after, int most, CancellationToken cancel) => ReadAsync(
        $"{Columns} where tenant_id = $1 and (position, ordinal) > ($2, $3) order by position, ordinal limit $4",
        cancel, organisation, after.Position, after.Ordinal, most);

    /// <summary>Every organisation's changes after one of them, oldest first.</summary>
    public Task<List<FeedChange>> AfterAsync(FeedChange last, CancellationToken cancel) => ReadAsync(
        $"{Columns} where position >= $1 and (position, tenant_id, ordinal) > ($1, $2, $3) order by position, tenant_id, ordinal limit {Few}",
        cancel, last.Cursor.Position, last.Organisation, last.Cursor.Ordinal);

    /// <summary>Every organisation's changes after a position, oldest first.</summary>
    public Task<List<FeedChange>> AfterAsync(long position, CancellationToken cancel) => ReadAsync(
        $"{Columns} where position > $1 order by position, tenant_id, ordinal limit {Few}", cancel, position);

    /// <summary>The circuits of an organisation that changed after one position and before another, each once.</summary>
    public static async Task<List<string>> CircuitsBetweenAsync(
        NpgsqlDataSource database, string organisation, long after, long before, CancellationToken cancel)
    {
        await using var command = database.CreateCommand(
            $"select distinct thing_id from {Tables.Schema}.fl_change where tenant_id = $1 and position > $2 and position < $3 and kind = 'circuit'");
        foreach (var value in (object[])[organisation, after, before]) command.Parameters.Add(new NpgsqlParameter { Value = value });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var circuits = new List<string>();
        while (await reader.ReadAsync(cancel)) circuits.Add(reader.GetString(0));
        return circuits;
    }

    /// <summary>The newest position of all.</summary>
    public async Task<long> NewestAsync(CancellationToken cancel)
    {
        await using var command = database.CreateCommand($"select coalesce(max(position), 0) from {Tables.Schema}.fl_change");
        return (long)(await command.ExecuteScalarAsync(cancel))!;
    }

    private async Task<List<FeedChange>> ReadAsync(string sql, CancellationToken cancel, params object[] values)
    {
        await using var command = database.CreateCommand(sql);
        foreach (var value in values) command.Parameters.Add(new NpgsqlParameter { Value = value });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var changes = new List<FeedChange>();
        while (await reader.ReadAsync(cancel))
        {
            changes.Add(new FeedChange(
                reader.GetString(0), new FeedCursor(reader.GetInt64(1), reader.GetInt32(2)), reader.GetString(3), reader.GetString(4),
                reader.IsDBNull(5) || reader.GetString(5).Length == 0 ? null : reader.GetString(5)));
        }

        return changes;
    }
}

using System.Globalization;
using System.Security.Cryptography;
using System.Text.Json;
using FleetLight.Contracts.Proofs;
using FleetLight.Contracts.Views;
using FleetLight.Record.Ledger;
using FleetLight.Service.Store;
using Npgsql;

namespace FleetLight.Service.Exports;

/// <summary>
/// All facts of an organisation up to a checkpoint: a line each, in the order of the ledger. Lines are made of what is kept as they
/// are sent, so what was altered shows to whoever checks them; nothing is held in memory but a page.
/// </summary>
public sealed class FactExport(
    NpgsqlDataSource database, string organisation, CheckpointView checkpoint, long length, byte[]? sha256, ILogger log) : IStableFile
{
    /// <summary>Media type of a JSON value a line.</summary>
    public const string LinesMediaType = "application/x-ndjson";

    private const int PageLength = 500;
    private const long MostBytesBefore = 8 * 1024 * 1024;

    /// <inheritdoc/>
    public string MediaType => LinesMediaType;

    /// <inheritdoc/>
    public string Name => string.Create(CultureInfo.InvariantCulture, $"facts-{checkpoint.Size}.ndjson");

    /// <inheritdoc/>
    public string Tag => string.Create(CultureInfo.InvariantCulture, $"\"facts-{checkpoint.Size}-{checkpoint.Root[..32]}\"");

    /// <inheritdoc/>
    public long Length => length;

    /// <inheritdoc/>
    public byte[]? Sha256 => sha256;

    /// <summary>The export of that checkpoint.</summary>
    public static async Task<FactExport> OpenAsync(
        NpgsqlDataSource database, string organisation, CheckpointView checkpoint, ILogger log, CancellationToken cancel)
    {
        await using var connection = await database.OpenConnectionAsync(cancel);
        var length = await EndAsync(connection, organisation, checkpoint.Size - 1, cancel);
        await using var known = new NpgsqlCommand($"select sha256 from {Tables.Schema}.fl_ledger_export where tenant_id = $1 and size = $2", connection);
        known.Parameters.Add(new NpgsqlParameter { Value = organisation });
        known.Parameters.Add(new NpgsqlParameter { Value = checkpoint.Size });
        return new FactExport(database, organisation, checkpoint, length, await known.ExecuteScalarAsync(cancel) as byte[], log);
    }

    /// <summary>The same with its digest, where working it out takes no longer than a caller waits for the first byte.</summary>
    public async Task<FactExport> WithDigestAsync(CancellationToken cancel) =>
        sha256 is not null || length > MostBytesBefore || await WriteAsync(Stream.Null, 0, length, cancel) is not { } digest
            ? this
            : new FactExport(database, organisation, checkpoint, length, digest, log);

    /// <inheritdoc/>
    public async Task<byte[]?> WriteAsync(Stream into, long from, long to, CancellationToken cancel)
    {
        var (leaf, at) = await StartAsync(from, cancel);
        using var hash = from == 0 && to == length && sha256 is null ? IncrementalHash.CreateHash(HashAlgorithmName.SHA256) : null;
        var whole = true;
        var page = new MemoryStream();
        while (at < to && leaf < checkpoint.Size)
        {
            page.SetLength(0);
            var next = await PageAsync(leaf, page, cancel);
            whole &= next.Sound;
            var bytes = page.GetBuffer().AsMemory(0, (int)page.Length);
            hash?.AppendData(bytes.Span);
            var (skip, end) = ((int)Math.Max(0, from - at), (int)Math.Min(bytes.Length, to - at));
            if (end > skip) await into.WriteAsync(bytes[skip..end], cancel);
            at += bytes.Length;
            leaf = next.Leaf;
        }

        // What was altered has a digest too, but not one to hold anybody to.
        if (hash is null || !whole) return null;
        var digest = hash.GetHashAndReset();
        await KeepAsync(digest, cancel);
        return digest;
    }

    // The lines of a page of leaves, and whether all have the hashes with which they were taken in.
    private async Task<(long Leaf, bool Sound)> PageAsync(long leaf, MemoryStream into, CancellationToken cancel)
    {
        await using var command = database.CreateCommand(
            $"""
            select l.leaf, l.hash, e.type, e.data from {Tables.Schema}.fl_ledger_leaf as l left join lateral
            (select type, data from {Tables.Schema}.mt_events where tenant_id = $1 and id = l.event_id offset 0) as e on true
            where l.tenant_id = $1 and l.leaf >= $2 and l.leaf < $3 order by l.leaf
            """);
        foreach (var value in (object[])[organisation, leaf, Math.Min(leaf + PageLength, checkpoint.Size)])
            command.Parameters.Add(new NpgsqlParameter { Value = value });
        var sound = true;
        await using var reader = await command.ExecuteReaderAsync(cancel);
        while (await reader.ReadAsync(cancel))
        {
            leaf = reader.GetInt64(0) + 1;
            if (reader.IsDBNull(3))
            {
                log.LogError("The fact {Index} of the ledger of {Organisation} is no longer kept", leaf - 1, organisation);
                sound = false;
                continue;
            }

            using var kept = JsonDocument.Parse(reader.GetString(3));
            var line = LedgerLine.Of(leaf - 1, organisation, reader.GetString(2), kept.RootElement);
            if (!MerkleHash.Leaf(line).AsSpan().SequenceEqual(reader.GetFieldValue<byte[]>(1)))
            {
                log.LogError("The fact {Index} of the ledger of {Organisation} is not what it was when it was recorded", leaf - 1, organisation);
                sound = false;
            }

            into.Write(line);
            into.WriteByte((byte)'\n');
        }

        return (leaf, sound);
    }

    // The leaf in whose line a byte stands, and where that line begins: the ends of lines rise, so it is found by halving.
    private async Task<(long Leaf, long At)> StartAsync(long from, CancellationToken cancel)
    {
        if (from == 0) return (0, 0);
        await using var connection = await database.OpenConnectionAsync(cancel);
        var (low, high) = (0L, checkpoint.Size - 1);
        while (low < high)
        {
            var middle = low + ((high - low) / 2);
            if (await EndAsync(connection, organisation, middle, cancel) > from) high = middle;
            else low = middle + 1;
        }

        return (low, low == 0 ? 0 : await EndAsync(connection, organisation, low - 1, cancel));
    }

    private static async Task<long> EndAsync(NpgsqlConnection connection, string organisation, long leaf, CancellationToken cancel)
    {
        await using var command = new NpgsqlCommand($"select ends_at from {Tables.Schema}.fl_ledger_leaf where tenant_id = $1 and leaf = $2", connection);
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        command.Parameters.Add(new NpgsqlParameter { Value = leaf });
        return await command.ExecuteScalarAsync(cancel) as long? ?? 0;
    }

    private async Task KeepAsync(byte[] digest, CancellationToken cancel)
    {
        await using var command = database.CreateCommand(
            $"insert into {Tables.Schema}.fl_ledger_export (tenant_id, size, sha256) values ($1, $2, $3) on conflict (tenant_id, size) do nothing");
        foreach (var value in (object[])[organisation, checkpoint.Size, digest]) command.Parameters.Add(new NpgsqlParameter { Value = value });
        await command.ExecuteNonQueryAsync(cancel);
    }
}

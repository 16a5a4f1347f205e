using System.Globalization;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Store;
using Marten;
using Npgsql;
using NpgsqlTypes;

namespace FleetLight.Service.Photos;

/// <summary>Bytes in hand with what is known of them.</summary>
/// <param name="View">What is known of them.</param>
/// <param name="Body">The bytes; none where only the rest was asked for.</param>
public sealed record Attachment(AttachmentView View, byte[]? Body);

/// <summary>Keeps the bytes of pictures and gives them back.</summary>
public sealed class AttachmentDesk(IDocumentStore store, NpgsqlDataSource database, AttachmentOptions options, TimeProvider clock)
{
    private const string Table = $"{Tables.Schema}.fl_attachment";
    private const string KnownColumns = "media_type, size_bytes, kept_at";

    /// <summary>What is in hand under a digest; none where nothing is.</summary>
    public async Task<Attachment?> FindAsync(string organisation, string sha256, bool withBody, CancellationToken cancel)
    {
        await using var connection = await database.OpenConnectionAsync(cancel);
        return await FindAsync(connection, organisation, sha256, withBody, cancel);
    }

    private static async Task<Attachment?> FindAsync(
        NpgsqlConnection connection, string organisation, string sha256, bool withBody, CancellationToken cancel)
    {
        var columns = withBody ? KnownColumns + ", body" : KnownColumns;
        await using var command = new NpgsqlCommand($"select {columns} from {Table} where tenant_id = $1 and sha256 = $2", connection);
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        command.Parameters.Add(new NpgsqlParameter { Value = sha256 });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        if (!await reader.ReadAsync(cancel)) return null;
        var view = new AttachmentView
        {
            Sha256 = sha256,
            MediaType = reader.GetString(0),
            SizeBytes = reader.GetInt32(1),
            KeptAt = reader.GetFieldValue<DateTimeOffset>(2),
        };
        return new Attachment(view, withBody ? reader.GetFieldValue<byte[]>(3) : null);
    }

    /// <summary>The problem of so many bytes more; none where there is room for them.</summary>
    public async Task<Problem?> RoomAsync(string organisation, long more, CancellationToken cancel)
    {
        await using var connection = await database.OpenConnectionAsync(cancel);
        return await RoomAsync(connection, organisation, more, cancel);
    }

    /// <summary>Keeps bytes whose digest and media type were checked. Kept already, nothing changes.</summary>
    /// <returns>What is in hand and whether it is new, or the problem.</returns>
    public async Task<(AttachmentView? View, bool IsNew, Problem? Problem)> KeepAsync(
        string organisation, string source, string sha256, string mediaType, byte[] body, CancellationToken cancel)
    {
        await using var session = store.LightweightSession(organisation);
        await session.BeginTransactionAsync(cancel);
        // One after the other in an organisation: else two that fit by themselves would be too much together.
        await using (var turn = new NpgsqlCommand("select pg_advisory_xact_lock(hashtextextended($1, 0))", session.Connection))
        {
            turn.Parameters.Add(new NpgsqlParameter { Value = $"fleetlight attachments of {organisation}" });
            await turn.ExecuteNonQueryAsync(cancel);
        }

        if (await FindAsync(session.Connection!, organisation, sha256, withBody: false, cancel) is { } known) return (known.View, false, null);
        if (await RoomAsync(session.Connection!, organisation, body.Length, cancel) is { } problem) return (null, false, problem);
        var kept = new AttachmentKept { Sha256 = sha256, MediaType = mediaType, SizeBytes = body.Length, Source = source, At = clock.GetUtcNow() };
        await using (var insert = new NpgsqlCommand(
            $"insert into {Table} (tenant_id, sha256, media_type, size_bytes, kept_at, body) values ($1, $2, $3, $4, $5, $6)", session.Connection))
        {
            foreach (var value in (object[])[organisation, sha256, mediaType, body.Length, kept.At.ToUniversalTime()])
                insert.Parameters.Add(new NpgsqlParameter { Value = value });
            insert.Parameters.Add(new NpgsqlParameter { Value = body, NpgsqlDbType = NpgsqlDbType.Bytea });
            await insert.ExecuteNonQueryAsync(cancel);
        }

        session.Events.Append(AttachmentEvents.StreamOf(sha256), kept);
        await session.SaveChangesAsync(cancel);
        return (kept.ToView(), true, null);
    }

    private async Task<Problem?> RoomAsync(NpgsqlConnection connection, string organisation, long more, CancellationToken cancel)
    {
        await using var command = new NpgsqlCommand($"select coalesce(sum(size_bytes), 0)::bigint from {Table} where tenant_id = $1", connection);
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        var used = (long)(await command.ExecuteScalarAsync(cancel))!;
        if (used + more <= options.MostBytesOfOrganisation) return null;
        return new Problem
        {
            Type = ProblemTypes.QuotaExceeded,
            Title = "There is no room left for pictures",
            Status = StatusCodes.Status409Conflict,
            Detail = string.Create(CultureInfo.InvariantCulture,
                $"Your organisation's pictures have {used} bytes, of {options.MostBytesOfOrganisation} at most; {more} more do not fit."),
            Remedy = "Keep the picture and ask whoever runs the service for more room. The fact of the photo is recorded all the same.",
        };
    }
}

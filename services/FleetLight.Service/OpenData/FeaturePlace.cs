using FleetLight.Service.Works;
using Npgsql;

namespace FleetLight.Service.OpenData;

/// <summary>How far an organisation's features are known.</summary>
/// <param name="Edition">The table of states that they were made of.</param>
/// <param name="Current">The table of states that is in use.</param>
/// <param name="Position">Position in the change feed.</param>
/// <param name="Ordinal">Place among the changes of that position.</param>
/// <param name="Filling">Where filling has come to, behind <see cref="Again"/> where there were features before; none once it is done.</param>
public sealed record FeaturePlace(long Edition, long Current, long Position, int Ordinal, string? Filling)
{
    /// <summary>How the place of a filling begins that makes features anew.</summary>
    public const string Again = "again/";

    /// <summary>Whether features that were whole are made anew.</summary>
    public bool IsMadeAnew => Filling?.StartsWith(Again, StringComparison.Ordinal) is true;

    /// <summary>Reads it and keeps others from changing it until the transaction ends.</summary>
    public static async Task<FeaturePlace> LockAsync(NpgsqlConnection connection, string organisation)
    {
        await using (var first = new NpgsqlCommand(
            "insert into fleetlight.fl_feature_place (tenant_id, edition, position, ordinal, filling) values ($1, 0, 0, -1, '') on conflict do nothing", connection))
        {
            first.Parameters.Add(new NpgsqlParameter { Value = organisation });
            await first.ExecuteNonQueryAsync();
        }

        await using var command = new NpgsqlCommand(
            "select edition, 'fl_state'::regclass::oid::bigint, position, ordinal, filling from fleetlight.fl_feature_place where tenant_id = $1 for update",
            connection);
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        await using var reader = await command.ExecuteReaderAsync();
        await reader.ReadAsync();
        return new FeaturePlace(reader.GetInt64(0), reader.GetInt64(1), reader.GetInt64(2), reader.GetInt32(3), reader.IsDBNull(4) ? null : reader.GetString(4));
    }

    /// <summary>
    /// Begins to fill the features in from the states. Where they were whole they stay until each is made anew, and go on following the
    /// feed; else changes from here on are followed once they are filled in. False as long as the projection has not come to
    /// the end of the feed: rebuilt states may stand before it for a moment, and what they then lack the feed does not tell again.
    /// </summary>
    public async Task<bool> StartOverAsync(NpgsqlConnection connection, string organisation)
    {
        await using var newest = new NpgsqlCommand(
            $"""
            select newest.position, coalesce(newest.position <= (select last_seq_id from fleetlight.mt_event_progression where name = '{WorksProjection.Name}:All'), true)
            from (select coalesce(max(position), 0) as position from fleetlight.fl_change where tenant_id = $1) as newest
            """, connection);
        newest.Parameters.Add(new NpgsqlParameter { Value = organisation });
        await using (var reader = await newest.ExecuteReaderAsync())
        {
            await reader.ReadAsync();
            if (!reader.GetBoolean(1)) return false;
            var begun = Edition != 0 && (Filling is null || IsMadeAnew)
                ? this with { Edition = Current, Filling = Again }
                : this with { Edition = Current, Position = reader.GetInt64(0), Ordinal = int.MaxValue, Filling = "" };
            await reader.CloseAsync();
            await begun.SaveAsync(connection, organisation);
        }

        return true;
    }

    /// <summary>Keeps it.</summary>
    public async Task SaveAsync(NpgsqlConnection connection, string organisation)
    {
        await using var command = new NpgsqlCommand(
            "update fleetlight.fl_feature_place set edition = $2, position = $3, ordinal = $4, filling = nullif($5, '-') where tenant_id = $1", connection);
        foreach (var value in (object[])[organisation, Edition, Position, Ordinal, Filling ?? "-"]) command.Parameters.Add(new NpgsqlParameter { Value = value });
        await command.ExecuteNonQueryAsync();
    }
}

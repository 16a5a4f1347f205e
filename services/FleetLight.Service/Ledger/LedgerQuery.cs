using System.Text.Json;
using FleetLight.Contracts.Views;
using FleetLight.Record.Ledger;
using FleetLight.Service.FactLists;
using FleetLight.Service.Store;
using Npgsql;

namespace FleetLight.Service.Ledger;

/// <summary>A fact's place in its ledger.</summary>
/// <param name="Index">The place, from 0.</param>
/// <param name="EventId">The event that keeps it.</param>
/// <param name="Hash">Its leaf hash.</param>
public sealed record LedgerPlace(long Index, Guid EventId, byte[] Hash);

/// <summary>Answers questions about ledgers.</summary>
public sealed class LedgerQuery(NpgsqlDataSource database)
{
    /// <summary>Where a fact stands; none where it is in no ledger of the organisation.</summary>
    /// <param name="organisation">Whose ledger.</param>
    /// <param name="fact">The fact, <c>source#id</c>.</param>
    /// <param name="cancel">Ends it.</param>
    public async Task<LedgerPlace?> FindAsync(string organisation, string fact, CancellationToken cancel)
    {
        // Both parts may hold the sign that parts them: every way to part it names another event.
        var ids = Enumerable.Range(0, fact.Length).Where(at => fact[at] == '#').Take(16)
            .Select(at => EventIds.OfFact(organisation, fact[..at], fact[(at + 1)..])).ToArray();
        await using var command = database.CreateCommand(
            $"select leaf, event_id, hash from {Tables.Schema}.fl_ledger_leaf where tenant_id = $1 and event_id = any($2) limit 1");
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        command.Parameters.Add(new NpgsqlParameter { Value = ids });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        return await reader.ReadAsync(cancel) ? new LedgerPlace(reader.GetInt64(0), reader.GetGuid(1), reader.GetFieldValue<byte[]>(2)) : null;
    }

    /// <summary>The line of a fact, made of what is kept now.</summary>
    public async Task<byte[]?> LineAsync(string organisation, LedgerPlace place, CancellationToken cancel)
    {
        await using var command = database.CreateCommand(FactQuery.ById);
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        command.Parameters.Add(new NpgsqlParameter { Value = new[] { place.EventId } });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        if (!await reader.ReadAsync(cancel)) return null;
        using var kept = JsonDocument.Parse(reader.GetString(2));
        return LedgerLine.Of(place.Index, organisation, reader.GetString(1), kept.RootElement);
    }

    /// <summary>The hashes of these stretches of leaves.</summary>
    public async Task<IReadOnlyList<byte[]>> HashesAsync(string organisation, IReadOnlyList<(long From, long To)> stretches, CancellationToken cancel)
    {
        await using var connection = await database.OpenConnectionAsync(cancel);
        return await LedgerTree.HashesAsync(connection, organisation, stretches, cancel);
    }

    /// <summary>How many facts the ledger has.</summary>
    public async Task<long> SizeAsync(string organisation, CancellationToken cancel)
    {
        await using var connection = await database.OpenConnectionAsync(cancel);
        return (await LedgerAppender.HeadAsync(connection, organisation, cancel)).Size;
    }

    /// <summary>A digest over the facts from which the states of a site follow; none where no fact of the site was recorded.</summary>
    public async Task<SiteLedgerView?> SiteAsync(string organisation, string siteId, CancellationToken cancel)
    {
        var (hashes, waiting) = (new List<byte[]>(), 0L);
        await using var command = database.CreateCommand(
            $"""
            select l.hash from fl_fact as f left join {Tables.Schema}.fl_ledger_leaf as l on l.tenant_id = f.tenant_id and l.event_id = f.event_id
            where f.tenant_id = $1 and f.list = $2
            """);
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        command.Parameters.Add(new NpgsqlParameter { Value = FactList.OfSite(siteId) });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        while (await reader.ReadAsync(cancel))
        {
            if (reader.IsDBNull(0)) waiting++;
            else hashes.Add(reader.GetFieldValue<byte[]>(0));
        }

        return hashes.Count + waiting == 0
            ? null
            : new SiteLedgerView { SiteId = siteId, Facts = hashes.Count, Waiting = waiting, Digest = Convert.ToHexStringLower(FactDigest.Of(hashes)) };
    }

    /// <summary>Leaves of a site's facts behind a place of the ledger, in its order.</summary>
    public async Task<List<LeafView>> LeavesOfSiteAsync(string organisation, string siteId, long after, int most, CancellationToken cancel)
    {
        await using var command = database.CreateCommand(
            $"""
            select l.leaf, e.data -> 'of' ->> 'source', e.data -> 'of' ->> 'id', l.hash from fl_fact as f
            join {Tables.Schema}.fl_ledger_leaf as l on l.tenant_id = f.tenant_id and l.event_id = f.event_id
            join {Tables.Schema}.mt_events as e on e.tenant_id = f.tenant_id and e.id = f.event_id
            where f.tenant_id = $1 and f.list = $2 and l.leaf > $3 order by l.leaf limit $4
            """);
        foreach (var value in (object[])[organisation, FactList.OfSite(siteId), after, most]) command.Parameters.Add(new NpgsqlParameter { Value = value });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var leaves = new List<LeafView>();
        while (await reader.ReadAsync(cancel))
        {
            leaves.Add(new LeafView
            {
                Index = reader.GetInt64(0),
                Fact = Record.Files.FactKey.Of(reader.GetString(1), reader.GetString(2)),
                LeafHash = Convert.ToHexStringLower(reader.GetFieldValue<byte[]>(3)),
            });
        }

        return leaves;
    }
}

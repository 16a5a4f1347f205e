using System.Text.Json;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Corrections;
using FleetLight.Record.Files;
using FleetLight.Record.Works;
using FleetLight.Service.Store;
using JasperFx.Events;
using Marten;
using Npgsql;

namespace FleetLight.Service.Works;

/// <summary>A fact and a correction of it.</summary>
/// <param name="Target">The fact.</param>
/// <param name="TargetEventId">Its event.</param>
/// <param name="Correction">The correction.</param>
public sealed record CorrectedPair(RecordedFact Target, Guid TargetEventId, RecordedFact Correction)
{
    /// <summary>
    /// All corrections of one fact: those of the page and those before it, which stand in the files of the things that the fact touched
    /// as sent.
    /// </summary>
    /// <param name="pairs">The page's corrections of that fact.</param>
    /// <param name="files">Where those files are at hand.</param>
    public static IReadOnlyList<RecordedFact> AllOf(IReadOnlyList<CorrectedPair> pairs, FileSet files)
    {
        var key = FactKey.Of(pairs[0].Target.Of);
        return
        [
            .. Routing.Touches(pairs[0].Target.Data).SelectMany(thing => files.Of(thing).Facts)
                .Where(fact => fact.Data is FactCorrected && EffectiveFacts.TargetOf(fact) == key)
                .Concat(pairs.Select(pair => pair.Correction))
                .DistinctBy(fact => FactKey.Of(fact.Of)),
        ];
    }
}

/// <summary>Brings corrections and the facts they correct together, whichever arrived first.</summary>
public sealed class CorrectionDesk(IQuerySession session, PageWrites writes, string organisation, NpgsqlDataSource database)
{
    private const string Waiting = "fl_waiting_correction";

    /// <summary>The pairs that are complete with this page's facts; corrections without their fact wait for it.</summary>
    public async Task<IReadOnlyList<CorrectedPair>> PairAsync(Dictionary<Guid, RecordedFact> facts, long pageEnd, CancellationToken cancel)
    {
        var pairs = new List<CorrectedPair>();
        foreach (var (id, fact) in facts)
        {
            if (fact.Data is not FactCorrected correction) continue;
            var targetId = EventIds.OfFact(organisation, correction.TargetSource ?? fact.Of.Source, correction.TargetId);
            var target = facts.GetValueOrDefault(targetId) ?? await EarlierAsync(targetId, pageEnd, cancel);
            if (target is null) Wait(targetId, id, fact);
            else pairs.Add(new CorrectedPair(target, targetId, fact));
        }

        foreach (var (targetId, correction) in await WaitedForAsync(facts.Keys, cancel))
            pairs.Add(new CorrectedPair(facts[targetId], targetId, correction));
        return pairs;
    }

    // A fact further on in the store has not been filed yet: its correction waits for it like for one that has not come.
    private async Task<RecordedFact?> EarlierAsync(Guid id, long pageEnd, CancellationToken cancel)
    {
        IEvent? found;
        try
        {
            found = await session.Events.LoadAsync(id, cancel);
        }
        catch (Exception fault) when (Poison.Is(fault, cancel))
        {
            // A fact that cannot be read is set aside; its correction waits until it can be.
            return null;
        }

        return found?.Data is IKept kept && found.Sequence <= pageEnd ? new RecordedFact(kept.Of, kept.Fact) : null;
    }

    private void Wait(Guid targetId, Guid correctionId, RecordedFact correction) => writes.Sql(
        $"insert into {Waiting} (tenant_id, target_id, correction_id, correction) values (?, ?, ?, ?::jsonb) on conflict do nothing",
        organisation, targetId, correctionId, JsonSerializer.Serialize(correction, WireJson.Lenient));

    private async Task<List<(Guid TargetId, RecordedFact Correction)>> WaitedForAsync(IEnumerable<Guid> ids, CancellationToken cancel)
    {
        await using var command = database.CreateCommand(
            $"""
            select w.target_id, w.correction from unnest($2) as wanted(id) cross join lateral
            (select target_id, correction from {Waiting} where tenant_id = $1 and target_id = wanted.id offset 0) as w
            """);
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        command.Parameters.Add(new NpgsqlParameter { Value = ids.ToArray() });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var found = new List<(Guid, RecordedFact)>();
        while (await reader.ReadAsync(cancel))
            found.Add((reader.GetGuid(0), JsonSerializer.Deserialize<RecordedFact>(reader.GetString(1), WireJson.Lenient)!));
        return found;
    }
}

using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Corrections;
using FleetLight.Record.Works;
using FleetLight.Service.Store;
using FleetLight.Service.Works;
using Npgsql;

namespace FleetLight.Service.FactLists;

/// <summary>
/// Puts a page's facts into the lists from which they are read: of the organisation, of each thing, of each site. When a thing comes to
/// belong to a site, all its earlier facts come into the site's list, at this page's place: so whoever follows the list gets them.
/// </summary>
public sealed class FactRows(NpgsqlDataSource database, string organisation, LinkRows links, FileSet files, long pageEnd)
{
    private const string Table = "fl_fact";

    private readonly SiteReach reach = new();
    private readonly Dictionary<(string List, Guid EventId), (RecordedFact Fact, long Position)> rows = [];

    /// <summary>Works out the rows and writes them with the page's other changes.</summary>
    /// <param name="writes">What the page writes.</param>
    /// <param name="facts">The page's facts.</param>
    /// <param name="positions">Sequence of each event of the page.</param>
    /// <param name="pairs">Corrections that the page brought together with their facts.</param>
    /// <param name="cancel">Cancels.</param>
    public async Task RunAsync(
        PageWrites writes, Dictionary<Guid, RecordedFact> facts, IReadOnlyDictionary<Guid, long> positions, IReadOnlyList<CorrectedPair> pairs,
        CancellationToken cancel)
    {
        Corrected[] corrected = [.. pairs.GroupBy(pair => pair.TargetEventId).Select(each => Corrected.Of([.. each], files))];
        await ReachAsync(facts.Values, corrected, cancel);
        foreach (var (id, fact) in facts) Add(id, fact, Routing.Touches(fact.Data));
        foreach (var each in corrected)
        {
            Add(each.TargetId, each.Target, each.Things);
            foreach (var correction in each.Corrections) Add(IdOf(correction), correction, each.Things);
        }

        Save(writes, corrected);

        void Add(Guid id, RecordedFact fact, IReadOnlyList<ThingRef> things)
        {
            var place = (fact, positions.GetValueOrDefault(id, pageEnd));
            // Where the fact came before this page, it stands in these lists already.
            rows.TryAdd((FactList.Everything, id), place);
            rows.TryAdd((FactList.OfSite(fact.Data.SiteId), id), place);
            foreach (var thing in things)
            {
                rows.TryAdd((FactList.Of(thing), id), place);
                foreach (var site in reach.SitesOf(thing)) rows.TryAdd((FactList.OfSite(site), id), place);
            }
        }
    }

    private Guid IdOf(RecordedFact fact) => EventIds.OfFact(organisation, fact.Of.Source, fact.Of.Id);

    private async Task ReachAsync(IEnumerable<RecordedFact> facts, Corrected[] corrected, CancellationToken cancel)
    {
        (string SiteId, ThingRef Thing)[] touched =
        [
            .. (from fact in facts from thing in Routing.Touches(fact.Data) select (fact.Data.SiteId, thing))
                .Concat(from each in corrected from counts in each.Replacements from thing in Routing.Touches(counts) select (counts.SiteId, thing))
                .Distinct(),
        ];
        await KnowAsync([.. touched.Select(each => each.Thing), .. links.Added.SelectMany(link => (ThingRef[])[link.From, link.To]),
            .. corrected.SelectMany(each => each.Things)], cancel);
        foreach (var (siteId, thing) in touched) reach.Touch(siteId, thing);
        foreach (var (from, to) in links.Added) reach.Link(from, to);
        while (reach.Open.Count > 0)
        {
            ThingRef[] open = [.. reach.Open];
            var neighbours = await links.NeighboursAsync(open, cancel);
            await KnowAsync([.. neighbours.SelectMany(each => each.Others)], cancel);
            foreach (var thing in open) reach.Close(thing);
            foreach (var (thing, others) in neighbours)
                foreach (var other in others) reach.Link(thing, other);
        }
    }

    private async Task KnowAsync(IReadOnlyCollection<ThingRef> things, CancellationToken cancel)
    {
        ThingRef[] unknown = [.. things.Where(thing => !reach.Knows(thing)).Distinct()];
        if (unknown.Length == 0) return;
        await using var command = database.CreateCommand(
            """
            select s.thing, s.site_id, s.steps from unnest($2) as wanted(thing) cross join lateral
            (select thing, site_id, steps from fl_site_thing where tenant_id = $1 and thing = wanted.thing offset 0) as s
            """);
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        command.Parameters.Add(new NpgsqlParameter { Value = unknown.Select(ThingKeys.Of).ToArray() });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var kept = new List<(ThingRef Thing, string SiteId, int Steps)>();
        while (await reader.ReadAsync(cancel)) kept.Add((ThingKeys.Read(reader.GetString(0)), reader.GetString(1), reader.GetInt32(2)));
        var byThing = kept.ToLookup(each => each.Thing);
        foreach (var thing in unknown) reach.Know(thing, byThing[thing].Select(each => (each.SiteId, each.Steps)));
    }

    private void Save(PageWrites writes, Corrected[] corrected)
    {
        var changed = reach.Changed.ToArray();
        if (changed.Length > 0)
        {
            writes.Sql(
                """
                insert into fl_site_thing (tenant_id, thing, site_id, steps) select ?, s.* from unnest(?, ?, ?) as s
                on conflict (tenant_id, thing, site_id) do update set steps = excluded.steps
                """,
                organisation, changed.Select(each => ThingKeys.Of(each.Thing)).ToArray(), changed.Select(each => each.SiteId).ToArray(),
                changed.Select(each => each.Steps).ToArray());
        }

        var fresh = changed.Where(each => each.Brings).ToArray();
        if (fresh.Length > 0)
        {
            writes.Sql(
                $"""
                insert into {Table} (tenant_id, list, happened_at, event_id, position, source, type, site_id)
                select ?, wanted.into_list, f.* from unnest(?, ?) as wanted(thing, into_list) cross join lateral
                (select happened_at, event_id, ?::bigint, source, type, site_id from {Table} where tenant_id = ? and list = wanted.thing offset 0) as f
                on conflict do nothing
                """,
                organisation, fresh.Select(each => FactList.Of(each.Thing)).ToArray(), fresh.Select(each => FactList.OfSite(each.SiteId)).ToArray(),
                pageEnd, organisation);
        }

        if (corrected.Length > 0)
        {
            var all = corrected.SelectMany(each => each.Corrections.Select(correction => (each.TargetId, CorrectionId: IdOf(correction)))).ToArray();
            writes.Sql(
                "insert into fl_correction (tenant_id, target_id, correction_id) select ?, c.* from unnest(?, ?) as c on conflict do nothing",
                organisation, all.Select(each => each.TargetId).ToArray(), all.Select(each => each.CorrectionId).ToArray());
        }

        if (rows.Count == 0) return;
        writes.Sql(
            $"""
            insert into {Table} (tenant_id, list, happened_at, event_id, position, source, type, site_id)
            select ?, r.* from unnest(?, ?, ?, ?, ?, ?, ?) as r on conflict do nothing
            """,
            organisation,
            rows.Keys.Select(key => key.List).ToArray(),
            rows.Values.Select(row => row.Fact.Of.HappenedAt.ToUniversalTime()).ToArray(),
            rows.Keys.Select(key => key.EventId).ToArray(),
            rows.Values.Select(row => row.Position).ToArray(),
            rows.Values.Select(row => row.Fact.Of.Source).ToArray(),
            rows.Values.Select(row => FactTypes.NameOf(row.Fact.Data.GetType())).ToArray(),
            rows.Values.Select(row => row.Fact.Data.SiteId).ToArray());
    }

    // A corrected fact with all its corrections that are known by now.
    private sealed record Corrected(
        Guid TargetId, RecordedFact Target, IReadOnlyList<RecordedFact> Corrections, IReadOnlyList<IFact> Replacements, IReadOnlyList<ThingRef> Things)
    {
        public static Corrected Of(IReadOnlyList<CorrectedPair> pairs, FileSet files)
        {
            var target = pairs[0].Target;
            var corrections = CorrectedPair.AllOf(pairs, files);
            IFact[] replacements = [.. corrections.Select(fact => EffectiveFacts.Replacement((FactCorrected)fact.Data)).OfType<IFact>()];
            return new(pairs[0].TargetEventId, target, corrections, replacements, Routing.TouchesOfCorrections(target.Data, replacements));
        }
    }
}

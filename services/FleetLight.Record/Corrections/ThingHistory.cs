using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Files;
using FleetLight.Record.Works;

namespace FleetLight.Record.Corrections;

/// <summary>
/// What the files say of one thing after corrections and joinings: the ground of every fold. Where another id stays for
/// the thing, only its own file is read, for whoever still asks by the old id.
/// </summary>
public sealed class ThingHistory
{
    private const int MostLines = 200;

    private readonly List<EffectiveFact> facts;
    private readonly List<(IFact Data, EffectiveFact Fact)> counting;

    private ThingHistory(
        ThingFile file, JoinedIds ids, List<EffectiveFact> facts, List<string> contradictions, List<string> waiting)
    {
        this.facts = facts;
        Subject = new(file.Kind, file.Id);
        SameAs = ids.KeptId == file.Id ? null : ids.KeptId;
        Ids = SameAs is null ? ids.Ids : [file.Id];
        Contradictions = contradictions;
        Waiting = waiting;
        counting = [];
        foreach (var fact in facts)
            if (fact.CountingData is { } data && Routing.Concerns(data, file.Kind, Ids)) counting.Add((data, fact));
        SiteId = counting.Count == 0 ? null : counting[^1].Data.SiteId;
        AddSites();
    }

    /// <summary>The thing.</summary>
    public ThingRef Subject { get; }

    /// <summary>The id that stays, where this one was found to be the same thing.</summary>
    public string? SameAs { get; }

    /// <summary>The ids that mean this thing.</summary>
    public IReadOnlyList<string> Ids { get; }

    /// <summary>The site that the newest fact names.</summary>
    public string? SiteId { get; }

    /// <summary>What contradicts, so far, in plain words; the folds add to it.</summary>
    public List<string> Contradictions { get; }

    /// <summary>What is waited for, so far, in plain words; the folds add to it.</summary>
    public List<string> Waiting { get; }

    /// <summary>The history of the thing of a file.</summary>
    /// <param name="file">Its file.</param>
    /// <param name="sameThings">
    /// The files of ids that were joined to it, directly or through others, in any order.
    /// </param>
    public static ThingHistory Of(ThingFile file, IReadOnlyList<ThingFile> sameThings)
    {
        var own = EffectiveFacts.Of(file);
        if (sameThings.Count == 0 && !own.Facts.Any(fact => fact.Original.Data is ThingsJoined))
            return new(file, new(file.Id, [file.Id]), [.. own.Facts], [.. own.Contradictions], [.. own.Waiting]);
        var others = sameThings
            .Where(other => other.Kind == file.Kind && other.Id != file.Id)
            .DistinctBy(other => other.Id)
            .Select(other => (other.Id, Facts: EffectiveFacts.Of(other)))
            .ToList();
        var all = own.Facts.Concat(others.SelectMany(other => other.Facts.Facts));
        var ids = JoinedIds.Of(file.Kind, file.Id, all);
        var read = ids.KeptId == file.Id ? others.Where(other => ids.Ids.Contains(other.Id)).ToList() : [];
        // A joining stands in both files, a joint in the files of both its cables: each fact counts once.
        var facts = own.Facts.Concat(read.SelectMany(other => other.Facts.Facts))
            .OrderBy(fact => fact.Original, FactOrder.Instance)
            .DistinctBy(fact => FactKey.Of(fact.Original.Of))
            .ToList();
        var texts = read.Select(other => other.Facts).Prepend(own).ToList();
        return new(
            file, ids, facts,
            [.. texts.SelectMany(one => one.Contradictions).Distinct().Order(StringComparer.Ordinal)],
            [.. texts.SelectMany(one => one.Waiting).Distinct().Order(StringComparer.Ordinal)]);
    }

    /// <summary>The counting facts of a type, oldest first.</summary>
    public List<Counted<T>> All<T>()
        where T : IFact
    {
        var found = new List<Counted<T>>();
        foreach (var (data, fact) in counting)
            if (data is T one) found.Add(new(one, fact.Original));
        return found;
    }

    /// <summary>The newest counting fact of a type.</summary>
    public Counted<T>? Newest<T>()
        where T : IFact
    {
        for (var i = counting.Count - 1; i >= 0; i--)
            if (counting[i].Data is T one) return new(one, counting[i].Fact.Original);
        return null;
    }

    /// <summary>The first counting fact of any type.</summary>
    public Counted<IFact>? First() => counting.Count == 0 ? null : new(counting[0].Data, counting[0].Fact.Original);

    /// <summary>The facts as lines, newest last, at most 200.</summary>
    public IReadOnlyList<FactLine> Lines()
    {
        var from = Math.Max(0, facts.Count - MostLines);
        var lines = new FactLine[facts.Count - from];
        for (var i = from; i < facts.Count; i++)
        {
            var fact = facts[i];
            lines[i - from] = new FactLine
            {
                Fact = FactKey.Of(fact.Original.Of),
                Type = FactTypes.NameOf(fact.Original.Data.GetType()),
                HappenedAt = fact.Original.Of.HappenedAt.ToUniversalTime(),
                RecordedAt = fact.Original.Of.RecordedAt.ToUniversalTime(),
                Corrected = fact.Correction?.Action,
                CorrectionReason = fact.Correction?.Reason,
            };
        }

        return lines;
    }

    private void AddSites()
    {
        if (counting.Count < 2) return;
        var sites = counting.Select(one => one.Data.SiteId).Distinct(StringComparer.Ordinal)
            .Order(StringComparer.Ordinal).ToList();
        if (sites.Count > 1)
        {
            Contradictions.Add(
                $"Its facts name different sites ({string.Join(", ", sites)}); the newest, {SiteId}, counts.");
        }
    }
}

using System.Collections.Immutable;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Files;

namespace FleetLight.Service.Works;

/// <summary>The files of things that are at hand, and what a page adds to them.</summary>
public sealed class FileSet(StateRows states)
{
    private readonly Dictionary<ThingRef, ThingFile> files = [];
    private readonly Dictionary<ThingRef, List<string>> changed = [];
    private readonly HashSet<ThingRef> missing = [];

    /// <summary>The things whose files the page changed.</summary>
    public IReadOnlyCollection<ThingRef> Changed => changed.Keys;

    /// <summary>The facts that the page added to a thing's file, as <c>source#id</c>.</summary>
    public IReadOnlyList<string> FactsOf(ThingRef thing) => changed.GetValueOrDefault(thing) ?? [];

    /// <summary>Brings files to hand; a thing without one has an empty one.</summary>
    public Task LoadAsync(IEnumerable<ThingRef> things, CancellationToken cancel)
    {
        missing.UnionWith(things);
        return FetchAsync(cancel);
    }

    /// <summary>Brings to hand what was missing; says whether anything was.</summary>
    public async Task<bool> FetchAsync(CancellationToken cancel)
    {
        missing.ExceptWith(files.Keys);
        if (missing.Count == 0) return false;
        foreach (var (key, facts) in await states.LoadAsync<RecordedFact[]>(StateKinds.File, missing.Select(ThingKeys.Of), cancel))
        {
            var thing = ThingKeys.Read(key);
            files[thing] = new ThingFile(thing.Kind, thing.Id, ImmutableArray.Create(facts));
        }

        foreach (var thing in missing) files.TryAdd(thing, ThingFile.Empty(thing.Kind, thing.Id));
        missing.Clear();
        return true;
    }

    /// <summary>A file; an empty one, and remembered as missing, where it is not at hand yet.</summary>
    public ThingFile Of(ThingRef thing)
    {
        if (files.TryGetValue(thing, out var file)) return file;
        missing.Add(thing);
        return ThingFile.Empty(thing.Kind, thing.Id);
    }

    /// <summary>Adds a fact to a file at hand.</summary>
    public void Add(ThingRef thing, RecordedFact fact)
    {
        var before = files[thing];
        var after = before.With(fact);
        if (ReferenceEquals(before, after)) return;
        files[thing] = after;
        if (!changed.TryGetValue(thing, out var facts)) changed[thing] = facts = [];
        facts.Add(FactKey.Of(fact.Of));
    }

    /// <summary>Keeps the changed files.</summary>
    public void Keep()
    {
        foreach (var thing in changed.Keys) states.Keep(StateKinds.File, ThingKeys.Of(thing), null, files[thing].Facts);
    }
}

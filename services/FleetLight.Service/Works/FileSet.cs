using System.Collections.Immutable;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Files;
using FleetLight.Service.Store;
using Marten;

namespace FleetLight.Service.Works;

/// <summary>The files of things that are at hand, and what a page adds to them.</summary>
public sealed class FileSet(IQuerySession session)
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
        foreach (var document in await session.LoadManyAsync<FileDocument>(cancel, missing.Select(ThingKeys.Of)))
            files[new ThingRef(document.Kind, document.ThingId)] = new ThingFile(document.Kind, document.ThingId, ImmutableArray.Create(document.Facts));
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

    /// <summary>Writes the changed files with the page's other changes.</summary>
    public void Save(IDocumentOperations operations)
    {
        foreach (var thing in changed.Keys)
            operations.Store(new FileDocument { Id = ThingKeys.Of(thing), Kind = thing.Kind, ThingId = thing.Id, Facts = [.. files[thing].Facts] });
    }
}

using System.Collections.Immutable;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Files;
using FleetLight.Service.Store;
using Marten;

namespace FleetLight.Service.Works;

/// <summary>The files of things that a page has at hand.</summary>
public sealed class FileSet(IDocumentOperations operations)
{
    private readonly Dictionary<string, ThingFile> files = new(StringComparer.Ordinal);
    private readonly Dictionary<string, List<string>> changed = new(StringComparer.Ordinal);

    /// <summary>The things whose files the page changed.</summary>
    public IReadOnlyCollection<string> Changed => changed.Keys;

    /// <summary>The facts that the page added to a thing's file, as <c>source#id</c>.</summary>
    public IReadOnlyList<string> FactsOf(string thing) => changed.GetValueOrDefault(thing) ?? [];

    /// <summary>Brings files to hand; a thing without one has an empty one.</summary>
    public async Task LoadAsync(IEnumerable<string> things, CancellationToken cancel)
    {
        var missing = things.Where(thing => !files.ContainsKey(thing)).Distinct(StringComparer.Ordinal).ToArray();
        if (missing.Length == 0) return;
        foreach (var document in await operations.LoadManyAsync<FileDocument>(cancel, missing))
            files[document.Id] = new ThingFile(document.Kind, document.ThingId, ImmutableArray.Create(document.Facts));
        foreach (var thing in missing)
        {
            var named = ThingKeys.Read(thing);
            files.TryAdd(thing, ThingFile.Empty(named.Kind, named.Id));
        }
    }

    /// <summary>A file at hand.</summary>
    public ThingFile this[string thing] => files[thing];

    /// <summary>Adds a fact to a file at hand.</summary>
    public void Add(ThingRef thing, RecordedFact fact)
    {
        var key = ThingKeys.Of(thing);
        var before = files[key];
        var after = before.With(fact);
        if (ReferenceEquals(before, after)) return;
        files[key] = after;
        if (!changed.TryGetValue(key, out var facts)) changed[key] = facts = [];
        facts.Add(FactKey.Of(fact.Of));
    }

    /// <summary>Writes the changed files with the page's other changes.</summary>
    public void Save()
    {
        foreach (var key in changed.Keys)
        {
            var file = files[key];
            operations.Store(new FileDocument { Id = key, Kind = file.Kind, ThingId = file.Id, Facts = [.. file.Facts] });
        }
    }
}

using System.Collections.Immutable;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Boxes;
using FleetLight.Record.Cables;
using FleetLight.Record.Circuits;
using FleetLight.Record.Corrections;
using FleetLight.Record.Ducts;
using FleetLight.Record.Files;
using FleetLight.Record.Works;
using FleetLight.Service.Store;
using FleetLight.Service.Works;
using Marten;
using Npgsql;

namespace FleetLight.Service.Circuits;

/// <summary>The state of a circuit as it was: folded from what had happened, and was known, by then.</summary>
public sealed class CircuitHistory(IDocumentStore store, NpgsqlDataSource database)
{
    /// <summary>The state with what had happened by one time and was known by another; none where the circuit was not known.</summary>
    public async Task<CircuitView?> AsOfAsync(
        string organisation, string id, DateTimeOffset? asOf, DateTimeOffset? knownBy, CancellationToken cancel)
    {
        await using var session = store.QuerySession(organisation);
        var links = new LinkRows(database, organisation);
        var key = ThingKeys.Of(ThingKind.Circuit, id);
        var direct = await links.LeadingToAsync([key], cancel);
        var indirect = await links.LeadingToAsync([.. direct.Select(edge => edge.From)], cancel);
        indirect.UnionWith(await links.LeadingToAsync([.. indirect.Select(edge => edge.From)], cancel));
        var wanted = direct.Concat(indirect).Select(edge => edge.From).Append(key).Distinct(StringComparer.Ordinal).ToArray();
        var whole = (await session.LoadManyAsync<FileDocument>(cancel, wanted)).ToDictionary(
            document => document.Id, document => new ThingFile(document.Kind, document.ThingId, [.. document.Facts]), StringComparer.Ordinal);
        var files = whole.ToDictionary(pair => pair.Key, pair => pair.Value.AsOf(asOf, knownBy), StringComparer.Ordinal);
        var file = files.GetValueOrDefault(key) ?? ThingFile.Empty(ThingKind.Circuit, id);
        var corrected = whole.GetValueOrDefault(key)?.Facts.Where(fact => fact.Data is ReadingTaken).Select(fact => FactKey.Of(fact.Of)).ToHashSet() ?? [];
        var stored = await ReadingRows.ThenAsync(
            database, organisation, id, asOf, knownBy, ReadingWindow.Size + 1 + corrected.Count, cancel);
        // What the table says of a reading holds its newest correction; the file says which corrections were known then.
        var readings = stored.Where(entry => !corrected.Contains(entry.Fact)).Concat(Readings(file)).ToList();
        if (!Names(file, id) && readings.Count == 0) return null;

        var neighbours = new CircuitNeighbours(
            [.. Of(files, ThingKind.Cable).Select(each => CableFold.Fold(each, Others(files, each)))],
            [.. Of(files, ThingKind.Duct).Select(each => DuctFold.Fold(each, Others(files, each), null))],
            [.. Of(files, ThingKind.Box).Select(each => BoxFold.Fold(each, Others(files, each)))]);
        var basis = CircuitBasisFold.Fold(file, neighbours);
        return CircuitJudge.Judge(basis, ReadingWindow.Of(readings));
    }

    // The file may hold a fact of another circuit whose later correction named this one.
    private static bool Names(ThingFile file, string id) => EffectiveFacts.Of(file).Facts.Any(fact =>
        Routing.Concerns(fact.Original.Data, ThingKind.Circuit, [id])
        || (fact.CountingData is { } data && Routing.Concerns(data, ThingKind.Circuit, [id])));

    private static IEnumerable<ReadingEntry> Readings(ThingFile circuit) => EffectiveFacts.Of(circuit).Facts
        .Where(fact => fact.Original.Data is ReadingTaken)
        .Select(ReadingEntry.Of).OfType<ReadingEntry>().Where(entry => entry.CircuitId == circuit.Id);

    private static IEnumerable<ThingFile> Of(Dictionary<string, ThingFile> files, ThingKind kind) =>
        files.Values.Where(file => file.Kind == kind && !file.Facts.IsEmpty).OrderBy(file => file.Id, StringComparer.Ordinal);

    private static ImmutableArray<ThingFile> Others(Dictionary<string, ThingFile> files, ThingFile of) =>
        [.. Of(files, of.Kind).Where(file => file.Id != of.Id && file.Facts.Any(fact => fact.Data is ThingsJoined))];
}

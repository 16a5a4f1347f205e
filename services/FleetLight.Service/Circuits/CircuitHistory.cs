using System.Collections.Immutable;
using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Boxes;
using FleetLight.Record.Cables;
using FleetLight.Record.Circuits;
using FleetLight.Record.Ducts;
using FleetLight.Record.Files;
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
        var files = (await session.LoadManyAsync<FileDocument>(cancel, wanted)).ToDictionary(
            document => document.Id, document => Then(document, asOf, knownBy), StringComparer.Ordinal);
        var readings = await ReadingRows.ThenAsync(database, organisation, id, asOf, knownBy, cancel);
        if ((!files.TryGetValue(key, out var file) || file.Facts.IsEmpty) && readings.Count == 0) return null;

        var neighbours = new CircuitNeighbours(
            [.. Of(files, ThingKind.Cable).Select(each => CableFold.Fold(each, Others(files, each)))],
            [.. Of(files, ThingKind.Duct).Select(each => DuctFold.Fold(each, Others(files, each), null))],
            [.. Of(files, ThingKind.Box).Select(each => BoxFold.Fold(each, Others(files, each)))]);
        var basis = CircuitBasisFold.Fold(file ?? ThingFile.Empty(ThingKind.Circuit, id), neighbours);
        return CircuitJudge.Judge(basis, ReadingWindow.Of(readings));
    }

    private static ThingFile Then(FileDocument document, DateTimeOffset? asOf, DateTimeOffset? knownBy) => new(
        document.Kind,
        document.ThingId,
        [.. document.Facts.Where(fact => (asOf is null || fact.Of.HappenedAt <= asOf) && (knownBy is null || fact.Of.RecordedAt <= knownBy))]);

    private static IEnumerable<ThingFile> Of(Dictionary<string, ThingFile> files, ThingKind kind) =>
        files.Values.Where(file => file.Kind == kind && !file.Facts.IsEmpty).OrderBy(file => file.Id, StringComparer.Ordinal);

    private static ImmutableArray<ThingFile> Others(Dictionary<string, ThingFile> files, ThingFile of) =>
        [.. Of(files, of.Kind).Where(file => file.Id != of.Id && file.Facts.Any(fact => fact.Data is Contracts.Facts.ThingsJoined))];
}

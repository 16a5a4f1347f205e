using FleetLight.OpenData.Cql;
using FleetLight.OpenData.Features;
using FleetLight.Service.Store;
using NetTopologySuite.Geometries;
using Npgsql;

namespace FleetLight.Service.OpenData;

/// <summary>Features out of their table, found along its keys, its sites or the rectangles that they reach.</summary>
public sealed class IndexedFeatures(NpgsqlDataSource database, string organisation) : IFeatureSource
{
    private const string Table = $"{Tables.Schema}.fl_feature";

    // So many are sorted that a rectangle finds, by their ids alone: whatever order they were found in, a page is the first of them.
    // Where it finds more, walking the collection in its order comes to a page's worth of them soon. The planner cannot tell
    // the two apart: it takes every rectangle for as large as any other.
    private const int Near = 20_000;

    // Made of a circuit, which owns them.
    private static readonly FeatureKind[] OfCircuits = [FeatureKinds.Drivers, FeatureKinds.Fittings];

    /// <inheritdoc/>
    public Task<IReadOnlyList<Keyed>> AfterAsync(FeatureQuestion question, string after, int most, CancellationToken cancel) =>
        WalkAsync(question, ">", after, "asc", most, cancel);

    /// <inheritdoc/>
    public Task<IReadOnlyList<Keyed>> UntilAsync(FeatureQuestion question, string until, int most, CancellationToken cancel) =>
        WalkAsync(question, "<=", until, "desc", most, cancel);

    // Comparison and order are words of our own.
    private async Task<IReadOnlyList<Keyed>> WalkAsync(
        FeatureQuestion question, string comparison, string from, string order, int most, CancellationToken cancel)
    {
        await using var command = database.CreateCommand();
        var where = Where(command, question, out _);
        // Rows are fetched by where they stand, which holds for a statement: without statistics the planner may take any index for their keys.
        var (key, limit) = (Value(command, from), Value(command, most));
        command.CommandText = question.Bounds.Within is { } within
            ? $"""
              with near as materialized (select id, ctid as at from {Table} where {where} and {Reaches(command, within)} limit {Near + 1}),
              few as (select count(*) <= {Near} as so from near),
              hit as (
                (select id, at from near where (select so from few) and id {comparison} {key} order by id {order} limit {limit})
                union all
                (select id, ctid from {Table} where not (select so from few) and {where} and {Touches(command, within)} and id {comparison} {key}
                 order by id {order} limit {limit}))
              select hit.id, f.shape, f.properties::text from hit cross join lateral
                (select shape, properties from {Table} where ctid = hit.at offset 0) as f order by hit.id {order}
              """
            : $"select id, shape, properties::text from {Table} where {where} and id {comparison} {key} order by id {order} limit {limit}";
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var found = new List<Keyed>();
        while (await reader.ReadAsync(cancel)) found.Add(new Keyed(reader.GetString(0), Read(question.Kind, reader)));
        return found;
    }

    /// <inheritdoc/>
    public async Task<long?> CountAsync(FeatureQuestion question, int bound, CancellationToken cancel)
    {
        await using var command = database.CreateCommand();
        var where = Where(command, question, out var exact);
        return exact ? await CountAsync(command, where, question, bound, cancel) : null;
    }

    /// <inheritdoc/>
    public async Task<bool> AreFewAsync(FeatureQuestion question, int bound, CancellationToken cancel)
    {
        await using var command = database.CreateCommand();
        return await CountAsync(command, Where(command, question, out _), question, bound, cancel) is not null;
    }

    private static async Task<long?> CountAsync(NpgsqlCommand command, string where, FeatureQuestion question, int bound, CancellationToken cancel)
    {
        if (question.Bounds.Within is { } within) where += $" and {Reaches(command, within)}";
        command.CommandText = $"select count(*) from (select 1 from {Table} where {where} limit {Value(command, bound + 1)}) as found";
        var count = (long)(await command.ExecuteScalarAsync(cancel))!;
        return count > bound ? null : count;
    }

    /// <inheritdoc/>
    public async Task<FeatureRow?> FindAsync(FeatureKind kind, string id, CancellationToken cancel)
    {
        await using var command = database.CreateCommand($"select id, shape, properties::text from {Table} where tenant_id = $1 and collection = $2 and id = $3");
        foreach (var value in (object[])[organisation, kind.Id, id]) Value(command, value);
        await using var reader = await command.ExecuteReaderAsync(cancel);
        return await reader.ReadAsync(cancel) ? Read(kind, reader) : null;
    }

    /// <summary>The rectangle that a collection reaches, and the first and last of its times; none where it has none.</summary>
    public async Task<(Envelope? Where, string? First, string? Last)> ReachAsync(FeatureKind kind, CancellationToken cancel)
    {
        // Readings were taken where circuits are.
        await using var command = database.CreateCommand(
            $"""
            select min((extent[1])[0]), max((extent[0])[0]), min((extent[1])[1]), max((extent[0])[1]),
              min((properties ->> $3) collate "C"), max((properties ->> $3) collate "C")
            from {Table} where tenant_id = $1 and collection = $2
            """);
        var isReadings = kind == FeatureKinds.Readings;
        foreach (var value in (object[])[organisation, isReadings ? FeatureKinds.Circuits.Id : kind.Id, isReadings ? "" : kind.Time ?? ""]) Value(command, value);
        await using var reader = await command.ExecuteReaderAsync(cancel);
        await reader.ReadAsync(cancel);
        var where = reader.IsDBNull(0) ? null : new Envelope(reader.GetDouble(0), reader.GetDouble(1), reader.GetDouble(2), reader.GetDouble(3));
        return (where, reader.IsDBNull(4) ? null : reader.GetString(4), reader.IsDBNull(5) ? null : reader.GetString(5));
    }

    /// <summary>The sites of a collection's features within a rectangle: the middle of what is there, and how much.</summary>
    public async Task<IReadOnlyList<(string SiteId, Coordinate Middle, long Count)>> SitesAsync(FeatureKind kind, Envelope within, CancellationToken cancel)
    {
        await using var command = database.CreateCommand();
        var where = Where(command, new FeatureQuestion(kind, null), out _);
        command.CommandText =
            $"""
            select coalesce(site_id, ''), avg(((extent[0])[0] + (extent[1])[0]) / 2), avg(((extent[0])[1] + (extent[1])[1]) / 2), count(*)
            from {Table} where {where} and {Reaches(command, within)} group by 1 order by 1
            """;
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var sites = new List<(string, Coordinate, long)>();
        while (await reader.ReadAsync(cancel)) sites.Add((reader.GetString(0), new Coordinate(reader.GetDouble(1), reader.GetDouble(2)), reader.GetInt64(3)));
        return sites;
    }

    /// <summary>The circuits at whose driver or fittings, or on whose site at a box, something may have been read within a rectangle.</summary>
    public async Task<List<string>> CircuitsReadWithinAsync(Envelope within, CancellationToken cancel)
    {
        await using var command = database.CreateCommand();
        Value(command, organisation);
        var reaches = Reaches(command, within);
        command.CommandText =
            $"""
            select properties ->> 'circuitId' from {Table} where tenant_id = $1 and collection in ('drivers', 'fittings') and {reaches}
            union
            select id from {Table} where tenant_id = $1 and collection = 'circuits' and site_id in (
              select site_id from {Table} where tenant_id = $1 and collection = 'boxes' and {reaches})
            """;
        return await TextsAsync(command, cancel);
    }

    /// <summary>The circuits of a site.</summary>
    public async Task<List<string>> CircuitsOfAsync(string siteId, CancellationToken cancel)
    {
        await using var command = database.CreateCommand($"select id from {Table} where tenant_id = $1 and collection = 'circuits' and site_id = $2");
        foreach (var value in (object[])[organisation, siteId]) Value(command, value);
        return await TextsAsync(command, cancel);
    }

    /// <summary>Shapes of features, with their sites.</summary>
    public async Task<Dictionary<(string Collection, string Id), (string? SiteId, Point? Shape)>> PointsAsync(
        IReadOnlyCollection<(string Collection, string Id)> wanted, CancellationToken cancel)
    {
        await using var command = database.CreateCommand(
            $"""
            select f.collection, f.id, f.site_id, f.shape from unnest($2, $3) as wanted(collection, id) cross join lateral
              (select collection, id, site_id, shape from {Table} where tenant_id = $1 and collection = wanted.collection and id = wanted.id offset 0) as f
            """);
        foreach (var value in (object[])[organisation, wanted.Select(each => each.Collection).ToArray(), wanted.Select(each => each.Id).ToArray()]) Value(command, value);
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var found = new Dictionary<(string, string), (string?, Point?)>();
        while (await reader.ReadAsync(cancel))
        {
            found[(reader.GetString(0), reader.GetString(1))] =
                (reader.IsDBNull(2) ? null : reader.GetString(2), reader.IsDBNull(3) ? null : FeatureJson.ReadShape(reader.GetString(3)) as Point);
        }

        return found;
    }

    private string Where(NpgsqlCommand command, FeatureQuestion question, out bool exact)
    {
        Value(command, organisation);
        var where = $"tenant_id = $1 and collection = {Value(command, question.Kind.Id)}";
        if (question.SiteId is { } site) where += $" and site_id = {Value(command, site)}";
        // What a filter says of these properties, columns say as well, and those have indexes.
        foreach (var (property, column, of) in (ReadOnlySpan<(string, string, string)>)[("siteId", "site_id", ""), ("circuitId", "owner", "circuit:")])
        {
            if (question.Bounds.Texts.TryGetValue(property, out var text) && text.Length > 0 && (column != "owner" || OfCircuits.Contains(question.Kind)))
                where += $" and {column} = {Value(command, of + text)}";
        }

        if (CqlSql.Of(question.Test, question.Kind, value => Value(command, value), out exact) is { } said) where += $" and {said}";
        return where;
    }

    private static string Reaches(NpgsqlCommand command, Envelope within) =>
        $"extent && box(point({Value(command, within.MinX)}, {Value(command, within.MinY)}), point({Value(command, within.MaxX)}, {Value(command, within.MaxY)}))";

    // The same without an index, and in one CASE, so that the planner takes it for half of all.
    private static string Touches(NpgsqlCommand command, Envelope within) =>
        $"case when extent is not null then (extent[1])[0] <= {Value(command, within.MaxX)} and (extent[0])[0] >= {Value(command, within.MinX)}"
        + $" and (extent[1])[1] <= {Value(command, within.MaxY)} and (extent[0])[1] >= {Value(command, within.MinY)} end";

    private static string Value(NpgsqlCommand command, object value)
    {
        command.Parameters.Add(new NpgsqlParameter { Value = value });
        return $"${command.Parameters.Count}";
    }

    private static FeatureRow Read(FeatureKind kind, NpgsqlDataReader reader) => new(
        reader.GetString(0), reader.IsDBNull(1) ? null : FeatureJson.ReadShape(reader.GetString(1)), FeatureJson.ReadProperties(kind, reader.GetString(2)));

    private static async Task<List<string>> TextsAsync(NpgsqlCommand command, CancellationToken cancel)
    {
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var texts = new List<string>();
        while (await reader.ReadAsync(cancel)) texts.Add(reader.GetString(0));
        return texts;
    }
}

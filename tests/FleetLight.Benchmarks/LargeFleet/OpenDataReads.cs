using System.Diagnostics;
using FleetLight.Service.Store;

namespace FleetLight.Benchmarks.LargeFleet;

/// <summary>The open data: their first filling, questions by place and by property, tiles, and all as one file.</summary>
internal static class OpenDataReads
{
    private const string Features = $"{Tables.Schema}.fl_feature";
    private const string Columns = "select id, shape, properties::text from " + Features + " where tenant_id = $1 and collection = $2";
    private const string Reaches = "extent && box(point($3, $4), point($5, $6))";
    private const int Rounds = 100;
    private const int Page = 100;

    /// <summary>Measures.</summary>
    public static async Task RunAsync(LoadedFleet fleet, Report report)
    {
        await FillAsync(fleet, report);
        foreach (var collection in (string[])["ducts", "boxes", "fittings"])
        {
            var pace = await Pace.CompareAsync(
                Rounds, round => fleet.GetAsync($"/ogc/collections/{collection}/items?limit={Page}&bbox={Box(PlacedFacts.Around(round % fleet.Size.Sites))}"),
                round => PlaceAsync(fleet, collection, PlacedFacts.Around(round % fleet.Size.Sites)));
            Pace.Tell(report, $"{collection} in a rectangle, at most {Page}", pace, "the same rows by SQL");
        }

        var everywhere = (West: 0.0, South: 40.0, East: 20.0, North: 60.0);
        Pace.Tell(report, $"fittings in a rectangle around all of them, first {Page}", await Pace.CompareAsync(
            Rounds / 5, _ => fleet.GetAsync($"/ogc/collections/fittings/items?limit={Page}&bbox={Box(everywhere)}"), _ => PlaceAsync(fleet, "fittings", everywhere)),
            "the same rows by SQL");
        await FilterAsync(fleet, report, "rare: ratedWatts > 2 AND verdict = 'within'", "ratedWatts > 2 AND verdict = 'within'",
            "(properties ->> 'ratedWatts')::float8 > 2 and properties ->> 'verdict' = 'within'");
        await FilterAsync(fleet, report, "common: verdict = 'within'", "verdict = 'within'", "properties ->> 'verdict' = 'within'");
        await TilesAsync(fleet, report);
        await PackageAsync(fleet, report);
    }

    private static Task<int> PlaceAsync(LoadedFleet fleet, string collection, (double West, double South, double East, double North) box) =>
        fleet.AskAsync($"{Columns} and {Reaches} order by id limit {Page}", LoadedFleet.Organisation, collection, box.West, box.South, box.East, box.North);

    private static async Task FilterAsync(LoadedFleet fleet, Report report, string what, string filter, string sql) =>
        Pace.Tell(report, $"fittings by a filter, {what}, first {Page}", await Pace.CompareAsync(
            Rounds / 5, _ => fleet.GetAsync($"/ogc/collections/fittings/items?limit={Page}&filter={Uri.EscapeDataString(filter)}"),
            _ => fleet.AskAsync($"{Columns} and {sql} order by id limit {Page}", LoadedFleet.Organisation, "fittings")), "the same rows by SQL");

    private static async Task FillAsync(LoadedFleet fleet, Report report)
    {
        var watch = Stopwatch.StartNew();
        (await fleet.WhenReadyAsync("/ogc/collections/ducts/items?limit=1")).Dispose();
        var seconds = watch.Elapsed.TotalSeconds;
        var rows = await fleet.AskAsync($"select 1 from {Features} where tenant_id = $1", LoadedFleet.Organisation);
        await fleet.AskAsync($"create table {Tables.Schema}.plain_feature (like {Features} including all)");
        watch.Restart();
        await fleet.AskAsync($"insert into {Tables.Schema}.plain_feature select * from {Features}");
        var plain = rows / watch.Elapsed.TotalSeconds;
        await fleet.AskAsync($"drop table {Tables.Schema}.plain_feature");
        await fleet.AskAsync($"vacuum analyze {Features}");
        report.Add($"(j) first filling of the open data: rows/s, {rows:N0} rows", $"{rows / seconds:N0}", $"raw insert of the same rows {plain:N0}", rows / seconds / plain);
    }

    private static async Task TilesAsync(LoadedFleet fleet, Report report)
    {
        foreach (var (zoom, say) in ((int, string)[])[(8, "low zoom (8), a point a site"), (16, "high zoom (16), the features")])
        {
            var tiles = Enumerable.Range(0, fleet.Size.Sites).Select(site => Tile(zoom, PlacedFacts.CornerOf(site))).ToArray();
            var path = Enumerable.Range(0, Rounds).Select(round => tiles[round % tiles.Length]).ToArray();
            var sql = zoom < 12
                ? $"select site_id, avg((extent[0])[0]), avg((extent[0])[1]), count(*) from {Features} where tenant_id = $1 and collection = $2 and {Reaches} group by 1"
                : $"{Columns} and {Reaches}";
            var rounds = zoom < 12 ? Rounds / 5 : Rounds;
            Pace.Tell(report, $"tile of fittings, {say}", await Pace.CompareAsync(
                rounds, round => fleet.GetAsync(FormattableString.Invariant($"/ogc/collections/fittings/tiles/WebMercatorQuad/{zoom}/{path[round].Row}/{path[round].Column}")),
                round =>
                {
                    var box = path[round].Box;
                    return fleet.AskAsync(sql, LoadedFleet.Organisation, "fittings", box.West, box.South, box.East, box.North);
                }), "the same rows by SQL");
        }
    }

    private static async Task PackageAsync(LoadedFleet fleet, Report report)
    {
        var watch = Stopwatch.StartNew();
        var kept = Path.GetTempFileName();
        try
        {
            using (var answer = await fleet.WhenReadyAsync("/ogc/geopackage"))
            await using (var file = File.Create(kept)) await answer.Content.CopyToAsync(file);
            var seconds = watch.Elapsed.TotalSeconds;
            var bytes = await File.ReadAllBytesAsync(kept);
            watch.Restart();
            await using (var file = File.Create(kept))
            {
                await file.WriteAsync(bytes);
                file.Flush(flushToDisk: true);
            }

            var (rate, plain) = (bytes.Length / 1e6 / seconds, bytes.Length / 1e6 / watch.Elapsed.TotalSeconds);
            report.Add($"(j) GeoPackage made and fetched, {bytes.Length / 1e6:0} MB: MB/s", $"{rate:0.0}", $"the same bytes written to a file {plain:0}", rate / plain);
        }
        finally
        {
            File.Delete(kept);
        }
    }

    private static string Box((double West, double South, double East, double North) box) =>
        FormattableString.Invariant($"{box.West},{box.South},{box.East},{box.North}");

    // Row and column of the tile that a place is in, and its sides (OGC 17-083r4, WebMercatorQuad).
    private static (int Row, int Column, (double West, double South, double East, double North) Box) Tile(int zoom, (double East, double North) place)
    {
        var tiles = 1 << zoom;
        var column = (int)((place.East + 180) / 360 * tiles);
        var row = (int)((1 - (Math.Asinh(Math.Tan(place.North * Math.PI / 180)) / Math.PI)) / 2 * tiles);
        return (row, column, (East(column), North(row + 1), East(column + 1), North(row)));

        double East(int at) => (at * 360.0 / tiles) - 180;
        double North(int at) => Math.Atan(Math.Sinh(Math.PI * (1 - (2.0 * at / tiles)))) * 180 / Math.PI;
    }
}

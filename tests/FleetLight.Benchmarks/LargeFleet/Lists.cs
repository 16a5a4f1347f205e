using System.Diagnostics;
using System.Text.Json;
using FleetLight.Service.Store;

namespace FleetLight.Benchmarks.LargeFleet;

/// <summary>Lists of the fleet by the page, and the change feed from its beginning.</summary>
internal static class Lists
{
    private const int Rounds = 50;
    private const int Page = 100;

    /// <summary>Measures.</summary>
    public static async Task RunAsync(LoadedFleet fleet, Report report)
    {
        Pace.Tell(report, $"fleet list, first {Page} sites", await Pace.CompareAsync(
            Rounds, _ => fleet.GetAsync($"/v1/fleet/sites?limit={Page}"),
            _ => fleet.AskAsync(
                $"select id, coalesce(line, body) from {Tables.Schema}.fl_state where tenant_id = $1 and kind = 'site' order by id limit {Page}", LoadedFleet.Organisation)),
            "the sites' rows by SQL");
        Pace.Tell(report, $"page of {Page} circuits", await Pace.CompareAsync(
            Rounds, _ => fleet.GetAsync($"/v1/circuits?limit={Page}"),
            _ => fleet.AskAsync($"select line from {Tables.Schema}.fl_circuit where tenant_id = $1 order by id limit {Page}", LoadedFleet.Organisation)), "their rows by SQL");
        Pace.Tell(report, $"page of {Page} circuits that a word is in", await Pace.CompareAsync(
            Rounds, round => fleet.GetAsync($"/v1/circuits?limit={Page}&q=path%20k{round}"),
            round => fleet.AskAsync($"select line from {Tables.Schema}.fl_circuit where tenant_id = $1 and position($2 in search) > 0 order by id limit {Page}",
                LoadedFleet.Organisation, $"path k{round}")), "their rows by SQL");
        await ChangesAsync(fleet, report);
    }

    private static async Task ChangesAsync(LoadedFleet fleet, Report report)
    {
        var watch = Stopwatch.StartNew();
        var changes = 0;
        for (var after = ""; ;)
        {
            using var page = JsonDocument.Parse(await fleet.GetAsync($"/v1/changes?limit=1000&after={after}"));
            var items = page.RootElement.GetProperty("items").GetArrayLength();
            if (items == 0) break;
            changes += items;
            after = page.RootElement.GetProperty("next").GetString()!;
        }

        var rate = changes / watch.Elapsed.TotalSeconds;
        watch.Restart();
        var rows = await fleet.AskAsync(
            $"select position, ordinal, kind, thing_id, site_id from {Tables.Schema}.fl_change where tenant_id = $1 order by position, ordinal", LoadedFleet.Organisation);
        var plain = rows / watch.Elapsed.TotalSeconds;
        report.Add($"(j) change feed from its beginning: changes/s, {changes:N0} changes", $"{rate:N0}", $"the same rows by SQL {plain:N0}", rate / plain);
    }
}

using FleetLight.Service.FactLists;
using FleetLight.Service.Store;

namespace FleetLight.Benchmarks.LargeFleet;

/// <summary>What is made of all facts of a site: its handover pack, and what was built by a day of the past.</summary>
internal static class Packs
{
    private const int Rounds = 5;

    /// <summary>Measures.</summary>
    public static async Task RunAsync(LoadedFleet fleet, Report report)
    {
        var site = FleetSize.SiteOf(0);
        var facts = await RowsAsync(fleet, site);
        Pace.Tell(report, $"handover pack of a site of {facts:N0} facts as PDF", await Pace.CompareAsync(
            Rounds, _ => fleet.GetAsync($"/v1/sites/{site}/handover"), _ => RowsAsync(fleet, site)), "its facts by SQL");
        Pace.Tell(report, $"what was built on it by a day of the past, {fleet.Size.Circuits / fleet.Size.Sites:N0} circuits", await Pace.CompareAsync(
            Rounds, _ => fleet.GetAsync($"/v1/sites/{site}/as-built?asOf={DateTimeOffset.UtcNow.AddHours(-1):yyyy-MM-ddTHH:mm:ssZ}"), _ => RowsAsync(fleet, site)),
            "its facts by SQL");
    }

    private static Task<int> RowsAsync(LoadedFleet fleet, string site) => fleet.AskAsync(
        $"select e.data::text from {Tables.Schema}.fl_fact as f join {Tables.Schema}.mt_events as e on e.id = f.event_id where f.tenant_id = $1 and f.list = $2",
        LoadedFleet.Organisation, FactList.OfSite(site));
}

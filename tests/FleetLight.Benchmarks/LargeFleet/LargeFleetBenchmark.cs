using System.Diagnostics;

namespace FleetLight.Benchmarks.LargeFleet;

/// <summary>(j) What a large fleet costs to read, export, tell and hand over, each beside raw SQL or a raw write of the same rows in the same run.</summary>
internal static class LargeFleetBenchmark
{
    /// <summary>Measures.</summary>
    public static async Task RunAsync(string server, Report report)
    {
        var size = FleetSize.Given;
        Console.WriteLine($"Fleet: {size.Sites:N0} sites, {size.Circuits:N0} circuits, {size.Facts:N0} facts");
        // The ledger is measured by itself at the end, and would else work beside all the rest.
        await using var running = await Server.StartAsync(
            server, new() { ["Ledger__LookSeconds"] = "86400", ["Webhooks__AllowedNetworks__0"] = "127.0.0.0/8" });
        using var fleet = await LoadedFleet.LoadAsync(running, size, report);
        foreach (var measure in (Func<LoadedFleet, Report, Task>[])[OpenDataReads.RunAsync, Lists.RunAsync, Telling.RunAsync, Packs.RunAsync])
        {
            var watch = Stopwatch.StartNew();
            await measure(fleet, report);
            Console.WriteLine($"    {watch.Elapsed.TotalSeconds:0} s");
        }

        await running.StopAsync();
        await Ledgers.AtSizeAsync(running, report);
    }
}

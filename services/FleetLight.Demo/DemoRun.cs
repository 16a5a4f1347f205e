using FleetLight.Demo.Planning;
using FleetLight.Demo.Reporting;
using FleetLight.Demo.Sending;
using FleetLight.Demo.Works;

namespace FleetLight.Demo;

/// <summary>The whole demo: invents the fleet, loads it, reports.</summary>
internal static class DemoRun
{
    private static readonly TimeSpan ReadyAtMost = TimeSpan.FromSeconds(15);

    /// <summary>Runs it.</summary>
    /// <param name="http">Speaks to the service.</param>
    /// <param name="options">What the caller asks for.</param>
    /// <param name="output">Where the report goes.</param>
    /// <param name="clock">The clock.</param>
    /// <param name="cancel">Cancels.</param>
    public static async Task RunAsync(HttpClient http, DemoOptions options, TextWriter output, TimeProvider clock, CancellationToken cancel)
    {
        http.BaseAddress = options.Url;
        var progress = new Progress(output, clock);
        var api = new Api(http, clock);
        await api.WaitUntilReadyAsync(ReadyAtMost, progress, cancel);

        Directory.CreateDirectory(options.DataFolder);
        var record = await LoadRecord.PrepareAsync(options, clock, cancel);
        var fleet = Fleet.Of(record.Seed, new DateTimeOffset(record.Anchor, TimeOnly.MinValue, TimeSpan.Zero));
        var keys = await KeyRing.PrepareAsync(api, options, Crews.OrganisationOf(record.Seed), cancel);
        var loader = new Loader(api, keys, options, progress, clock);
        record = await loader.LoadAsync(fleet, record, cancel);
        var answers = await new Asker(api, keys, progress, clock).AskAsync(fleet, loader, cancel);
        new Report(output, fleet, answers, record, keys).Write();
    }
}

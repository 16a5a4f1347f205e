using System.Diagnostics;
using System.Net.Http.Headers;
using System.Text;
using FleetLight.Contracts.Facts;
using Npgsql;

namespace FleetLight.Benchmarks.LargeFleet;

/// <summary>The service with a large fleet in it, and one that asks it.</summary>
internal sealed class LoadedFleet(Server running, FleetSize size, HttpClient http) : IDisposable
{
    /// <summary>The organisation that owns the fleet.</summary>
    public const string Organisation = "bench";

    private const int Lanes = 8;
    private static readonly string[] Scopes = ["read-status", "read-as-built", "subscribe", "manage-webhooks"];

    /// <summary>The service.</summary>
    public Server Running => running;

    /// <summary>Its size.</summary>
    public FleetSize Size => size;

    /// <summary>Its database.</summary>
    public NpgsqlDataSource Database => running.Database;

    /// <summary>Asks, with a key that may read everything.</summary>
    public HttpClient Http => http;

    /// <summary>Hands everything in through the API, from several devices, and waits until the projection has come to its end.</summary>
    public static async Task<LoadedFleet> LoadAsync(Server running, FleetSize size, Report report)
    {
        var fleet = new Fleet(running.Port, running.FirstKey);
        var watch = Stopwatch.StartNew();
        var opener = await fleet.AddDeviceAsync();
        foreach (var chunk in Enumerable.Range(0, size.Sites).Select(IFact (site) => PlacedFacts.Opened(site)).Chunk(1000))
            await opener.SendAsync(opener.Prepare(chunk), chunk.Length);
        var all = size.All;
        var jobs = Facts.Job("s", "k").Count();
        var readings = Math.Max(0, size.Facts - size.Sites - (jobs * size.Circuits));
        await Task.WhenAll(Enumerable.Range(0, Lanes).Select(lane => Task.Run(async () =>
        {
            var device = await fleet.AddDeviceAsync();
            foreach (var chunk in Enumerable.Range(0, size.Circuits).Where(index => index % Lanes == lane).SelectMany(index => PlacedFacts.Job(size, index)).Chunk(1000))
                await device.SendAsync(device.Prepare(chunk), chunk.Length);
            // Twenty readings of each circuit at a time, as of a visit.
            for (var batch = lane; batch * 1000 < readings; batch += Lanes)
            {
                IFact[] facts = [.. Enumerable.Range(0, Math.Min(1000, readings - (batch * 1000))).Select(index => Facts.Reading(
                    all[((batch * 50) + (index / 20)) % all.Length].Site, all[((batch * 50) + (index / 20)) % all.Length].Circuit, index))];
                await device.SendAsync(device.Prepare(facts), facts.Length);
            }
        })));
        await running.CaughtUpAsync(TimeSpan.FromMinutes(10));
        var facts = await running.EventsAsync();
        report.Add($"(j) {size.Sites:N0} sites, {size.Circuits:N0} circuits: facts/s taken in, {facts:N0} events", $"{facts / watch.Elapsed.TotalSeconds:N0}");
        var key = await fleet.MakeKeyAsync(new { name = "asker", organisation = Organisation, scopes = Scopes });
        var http = new HttpClient { BaseAddress = new Uri($"http://127.0.0.1:{running.Port}"), Timeout = TimeSpan.FromMinutes(5) };
        http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", key);
        await AnalyseAsync(running.Database);
        return new LoadedFleet(running, size, http);
    }

    /// <summary>Asks for a path and reads all of the answer, which must be 200.</summary>
    public async Task<byte[]> GetAsync(string path)
    {
        using var answer = await http.GetAsync(new Uri(path, UriKind.Relative));
        var body = await answer.Content.ReadAsByteArrayAsync();
        return answer.IsSuccessStatusCode ? body : throw new InvalidOperationException($"{path} answered {(int)answer.StatusCode}: {Encoding.UTF8.GetString(body)}");
    }

    /// <summary>Asks for a path as long as it answers 503.</summary>
    public async Task<HttpResponseMessage> WhenReadyAsync(string path)
    {
        while (true)
        {
            var answer = await http.GetAsync(new Uri(path, UriKind.Relative), HttpCompletionOption.ResponseHeadersRead);
            if (answer.StatusCode != System.Net.HttpStatusCode.ServiceUnavailable) return answer.EnsureSuccessStatusCode();
            answer.Dispose();
            await Task.Delay(50);
        }
    }

    /// <summary>Asks the database and reads every value of every row; how many rows there were.</summary>
    public async Task<int> AskAsync(string sql, params object[] values)
    {
        await using var command = Database.CreateCommand(sql);
        command.CommandTimeout = 0;
        foreach (var value in values) command.Parameters.Add(new NpgsqlParameter { Value = value });
        await using var reader = await command.ExecuteReaderAsync();
        var rows = 0;
        for (; await reader.ReadAsync(); rows++)
        {
            for (var column = 0; column < reader.FieldCount; column++) reader.GetValue(column);
        }

        return rows;
    }

    /// <inheritdoc/>
    public void Dispose() => http.Dispose();

    // What autovacuum does sooner or later, so that it does not come between two measurements.
    private static async Task AnalyseAsync(NpgsqlDataSource database)
    {
        await using var command = database.CreateCommand("vacuum analyze");
        command.CommandTimeout = 0;
        await command.ExecuteNonQueryAsync();
    }
}

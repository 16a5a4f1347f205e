using System.Diagnostics;
using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using FleetLight.Service.Store;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;

namespace FleetLight.Benchmarks.LargeFleet;

/// <summary>Everything told from the beginning: as pages of the stream, and posted one by one to a subscription.</summary>
internal static class Telling
{
    private static readonly TimeSpan Posting = TimeSpan.FromSeconds(15);

    /// <summary>Measures.</summary>
    public static async Task RunAsync(LoadedFleet fleet, Report report)
    {
        await StreamAsync(fleet, report);
        await PostAsync(fleet, report);
    }

    private static async Task StreamAsync(LoadedFleet fleet, Report report)
    {
        var watch = Stopwatch.StartNew();
        var facts = 0;
        for (var after = ""; ;)
        {
            using var page = JsonDocument.Parse(await fleet.GetAsync($"/v1/stream?tell=facts&limit=1000&after={after}"));
            var items = page.RootElement.GetProperty("items").GetArrayLength();
            if (items == 0) break;
            facts += items;
            after = page.RootElement.GetProperty("next").GetString()!;
        }

        var rate = facts / watch.Elapsed.TotalSeconds;
        watch.Restart();
        var rows = await fleet.AskAsync(
            $"select seq_id, id, type, data::text from {Tables.Schema}.mt_events where tenant_id = $1 and jsonb_exists(data, 'of') order by seq_id", LoadedFleet.Organisation);
        var plain = rows / watch.Elapsed.TotalSeconds;
        report.Add($"(j) stream of facts from its beginning: facts/s, {facts:N0} facts", $"{rate:N0}", $"the same rows by SQL {plain:N0}", rate / plain);
    }

    private static async Task PostAsync(LoadedFleet fleet, Report report)
    {
        var (taken, bytes) = (0L, 0L);
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.ConfigureKestrel(options => options.Listen(IPAddress.Loopback, 0));
        await using var receiver = builder.Build();
        receiver.MapPost("/", async (HttpRequest request) =>
        {
            using var body = new MemoryStream();
            await request.Body.CopyToAsync(body);
            Interlocked.Increment(ref taken);
            Interlocked.Add(ref bytes, body.Length);
            return TypedResults.NoContent();
        });
        await receiver.StartAsync();
        var url = new Uri(receiver.Urls.Single());
        var made = await fleet.Http.PostAsJsonAsync("/v1/subscriptions", new { url, filter = new { tell = (string[])["facts"] }, after = "start" });
        if (!made.IsSuccessStatusCode) throw new InvalidOperationException(await made.Content.ReadAsStringAsync());
        var id = (await made.Content.ReadFromJsonAsync<JsonElement>()).GetProperty("id").GetString();
        var watch = Stopwatch.StartNew();
        while (watch.Elapsed < Posting && Interlocked.Read(ref taken) < fleet.Size.Facts) await Task.Delay(100);
        var (told, rate, each) = (Interlocked.Read(ref taken), Interlocked.Read(ref taken) / watch.Elapsed.TotalSeconds, Interlocked.Read(ref bytes));
        (await fleet.Http.DeleteAsync(new Uri($"/v1/subscriptions/{id}", UriKind.Relative))).EnsureSuccessStatusCode();
        if (told == 0) throw new InvalidOperationException("The subscription was told nothing.");
        var body = new byte[each / told];
        watch.Restart();
        var posted = 0;
        using var http = new HttpClient();
        for (; watch.Elapsed < Posting / 5; posted++)
        {
            using var content = new ByteArrayContent(body);
            (await http.PostAsync(url, content)).EnsureSuccessStatusCode();
        }

        var plain = posted / watch.Elapsed.TotalSeconds;
        report.Add(
            $"(j) one subscription from the beginning: facts/s, the first {told:N0}, {body.Length} bytes each", $"{rate:N0}",
            $"as many bytes posted one by one {plain:N0}", rate / plain);
    }
}

using System.Diagnostics;
using System.Globalization;
using System.Net.Http.Headers;
using System.Net.Http.Json;
using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Calculations;
using FleetLight.Record.Circuits;
using FleetLight.Record.Works;
using Microsoft.Playwright;

namespace FleetLight.Benchmarks.Pages;

/// <summary>
/// How soon the verdict follows a keystroke on the field page, and how soon its causes, beside the same calculation run natively.
/// </summary>
internal static class PageVerdict
{
    private const string Site = "s-bench";
    private static readonly int[] Sizes = [4, 20, 60];

    /// <summary>Measures them on a loop of a few and on the largest.</summary>
    public static async Task RunAsync(IBrowser browser, Server server, Report report)
    {
        var code = await PrepareAsync(server);
        await using var context = await browser.NewContextAsync(new BrowserNewContextOptions
        {
            BaseURL = $"http://127.0.0.1:{server.Port}",
            ViewportSize = new ViewportSize { Width = 390, Height = 844 },
        });
        var page = await context.NewPageAsync();
        await page.GotoAsync("/field/enrol");
        await page.GetByLabel("Code").FillAsync(code);
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Enrol this phone" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "Choose a site" }).Last.ClickAsync();
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Bench" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "Measure" }).ClickAsync();
        foreach (var size in Sizes) await MeasureAsync(page, size, report);
    }

    private static async Task MeasureAsync(IPage page, int size, Report report)
    {
        await page.GetByLabel("Circuit", new PageGetByLabelOptions { Exact = true }).SelectOptionAsync(Name(size));
        await page.GetByLabel("What does the meter show?").WaitForAsync();
        await page.EvaluateAsync(
            """
            window.strokes = [];
            const input = document.querySelector('#shows');
            const answer = document.querySelector('.answer');
            let began = 0;
            input.addEventListener('input', () => { began = performance.now(); }, true);
            new MutationObserver(() => { if (began) { strokes.push(performance.now() - began); began = 0; } })
              .observe(answer, { childList: true, subtree: true, characterData: true });
            """);
        var volts = Volts(size);
        var (native, causes) = Natively(size, volts);
        var input = page.GetByLabel("What does the meter show?");
        for (var i = 0; i < 12; i++)
        {
            await input.FillAsync("");
            await input.PressSequentiallyAsync((volts + (0.01 * i)).ToString("0.00", CultureInfo.InvariantCulture));
        }

        // The longest that a timer of the page had to wait while its causes were worked out: so long it answers nothing.
        await page.EvaluateAsync(
            """
            window.still = 0;
            let before = performance.now();
            setInterval(() => { const now = performance.now(); still = Math.max(still, now - before); before = now; }, 10);
            """);
        var strokes = await page.EvaluateAsync<double[]>("strokes");
        var typed = Stopwatch.StartNew();
        await input.FillAsync((volts - 0.05).ToString("0.00", CultureInfo.InvariantCulture));
        await page.GetByRole(AriaRole.Heading, new PageGetByRoleOptions { Name = "What would explain it" }).WaitForAsync(new LocatorWaitForOptions { Timeout = 600_000 });
        await page.GetByText("Working out what would explain it.").WaitForAsync(new LocatorWaitForOptions { State = WaitForSelectorState.Detached, Timeout = 600_000 });
        var explained = typed.Elapsed.TotalSeconds;
        var still = await page.EvaluateAsync<double>("still");
        var median = Report.Percentile(strokes, 0.5);
        report.Add(
            $"(i) keystroke to verdict, {size} fittings in series", Text($"{median:0} ms (99 %: {Report.Percentile(strokes, 0.99):0} ms)"),
            Text($"the same natively {native * 1000:0} µs"),
            median / native, "100 ms");
        report.Add($"(i) reading to causes, {size} fittings in series", Text($"{explained:0.0} s"), Text($"the same natively {causes:0.0} ms"),
            explained * 1000 / causes, "typing goes on");
        report.Add($"(i) longest stop of the page meanwhile, {size} fittings", Text($"{still:0} ms"), Text($"of {explained:0.0} s"), still / 1000 / explained, "");
    }

    // Milliseconds for the verdict of a reading, and for its causes.
    private static (double Verdict, double Causes) Natively(int size, double volts)
    {
        var works = new MemoryWorks();
        var at = new DateTimeOffset(2026, 3, 2, 8, 0, 0, TimeSpan.Zero);
        var origin = new FactOrigin { Source = "urn:device:a", Id = "1", RunningNumber = 1, DeviceTime = at, HappenedAt = at, RecordedAt = at, Digest = "" };
        works.Take([new RecordedFact(origin, Design(size))]);
        var basis = works.BasisOf(Name(size))!;
        var entry = new ReadingEntry
        {
            Source = "urn:device:a",
            RunningNumber = 2,
            Id = "2",
            HappenedAt = at,
            RecordedAt = at,
            SiteId = Site,
            CircuitId = Name(size),
            Place = ReadingPlaceKind.Driver,
            Quantity = ReadingQuantity.VoltsDc,
            Value = volts,
        };
        NextMeasurementRequest question = ReadingTrial.Question(basis, ReadingWindow.Empty, entry)!;
        return (Best(200, () => ReadingTrial.Judge(basis, entry)), Best(3, () => CalculateNextMeasurement.Answer(question)));
    }

    private static double Best(int times, Func<object> work)
    {
        var best = double.MaxValue;
        for (var i = 0; i < times; i++)
        {
            var began = Stopwatch.GetTimestamp();
            GC.KeepAlive(work());
            best = Math.Min(best, Stopwatch.GetElapsedTime(began).TotalMilliseconds);
        }

        return best;
    }

    // One fitting passed by.
    private static double Volts(int size) => (size - 1) * 1.6 / 0.35;

    private static string Name(int size) => $"k-{size}";

    private static CircuitDesigned Design(int size) => new()
    {
        SiteId = Site,
        CircuitId = Name(size),
        Name = $"Loop of {size}",
        Drive = DriveKind.ConstantCurrent,
        Driver = new DriverDesign { RatedMilliamps = 350 },
        Fittings = [.. Enumerable.Range(1, size).Select(number => new FittingDesign { FittingId = $"f{number}", RatedWatts = 1.6 })],
        Runs =
        [
            .. Enumerable.Range(1, size).Select(number => new RunDesign
            {
                RunId = $"r{number}", From = number == 1 ? "driver" : $"f{number - 1}", To = $"f{number}", LengthMetres = 5,
                AreaSquareMillimetres = 1.5, ConductorClass = ConductorClass.Class5,
            }),
        ],
    };

    // An organisation with the site and its circuits; answers the code of a phone.
    private static async Task<string> PrepareAsync(Server server)
    {
        using var http = new HttpClient { BaseAddress = new Uri($"http://127.0.0.1:{server.Port}") };
        var office = await KeyAsync(http, server.FirstKey, new { name = "office", scopes = (string[])["administer", "read-status", "read-as-built"], organisation = "org-pages" });
        var device = await KeyAsync(http, office, new { name = "van", scopes = (string[])["post-events"], source = "urn:device:van" });
        IFact[] facts = [new SiteOpened { SiteId = Site, Name = "Bench" }, .. Sizes.Select(Design)];
        var number = 0;
        using var sent = new HttpRequestMessage(HttpMethod.Post, "/v1/events")
        {
            Content = new ByteArrayContent(Facts.Batch("urn:device:van", ref number, facts, DateTimeOffset.UtcNow)),
        };
        sent.Content.Headers.ContentType = new MediaTypeHeaderValue("application/cloudevents-batch+json");
        sent.Headers.Authorization = new AuthenticationHeaderValue("Bearer", device);
        (await http.SendAsync(sent)).EnsureSuccessStatusCode();
        return await PostAsync(http, office, "/v1/enrolments", new { name = "phone", role = "device", source = "urn:device:phone", sites = (string[])[Site] }, "code");
    }

    private static Task<string> KeyAsync(HttpClient http, string by, object wanted) => PostAsync(http, by, "/v1/keys", wanted, "key");

    private static async Task<string> PostAsync(HttpClient http, string key, string path, object body, string member)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, path) { Content = JsonContent.Create(body) };
        request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", key);
        using var answer = await http.SendAsync(request);
        answer.EnsureSuccessStatusCode();
        return JsonNode.Parse(await answer.Content.ReadAsStringAsync())![member]!.GetValue<string>();
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}

using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using FleetLight.Deploy.Tests.Files;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Deploy.Tests.Running;

/// <summary>What a running service shows to those who watch it.</summary>
public sealed partial class WatchTests(WatchedService service) : IClassFixture<WatchedService>
{
    // Series of Prometheus' own.
    private static readonly string[] OfPrometheus = ["up"];

    [Fact]
    public async Task Every_series_that_the_dashboard_and_the_rules_ask_for_is_shown()
    {
        string[] asked = [.. Expressions().SelectMany(NamesIn).Distinct().Order()];
        Assert.True(asked.Length >= 20, $"Only these are asked for: {string.Join(", ", asked)}");

        // Those of followers come with the first of them, and those of the store with its first sample.
        using CancellationTokenSource enough = new();
        Task following = FollowAsync(enough.Token);
        string missing = await Eventually.ReadAsync(
            async () => string.Join(", ", asked.Except(await ShownAsync())), names => names.Length == 0, "every series to be shown");
        await enough.CancelAsync();
        await following;

        Assert.Empty(missing);
    }

    [Fact]
    public async Task Every_measure_of_our_own_stands_on_the_dashboard_or_in_a_rule()
    {
        string[] asked = [.. Expressions().SelectMany(NamesIn).Select(Stem)];

        HashSet<string> own = [.. (await ShownAsync()).Where(name => name.StartsWith("fleetlight_", StringComparison.Ordinal)).Select(Stem)];

        Assert.True(own.Count >= 12);
        Assert.Empty(own.Except(asked));
    }

    [Fact]
    public async Task Promtool_finds_nothing_wrong_with_the_measures()
    {
        string promtool = Tool.Need("promtool", "prometheus");
        string scrape = (await service.Anybody.GetAsync("/metrics")).Text;

        Ended ended = await Tool.RunAsync(TimeSpan.FromMinutes(1), promtool, ["check", "metrics"], scrape);

        Assert.True(ended.Code == 0 && ended.Output.Length + ended.Errors.Length == 0, ended.Output + ended.Errors);
    }

    [Fact]
    public async Task No_measure_holds_an_id_or_a_secret()
    {
        string scrape = (await service.Anybody.GetAsync("/metrics")).Text;

        Assert.DoesNotContain("urn:device", scrape, StringComparison.Ordinal);
        Assert.All(service.Secrets, secret => Assert.DoesNotContain(secret, scrape, StringComparison.Ordinal));
    }

    [Fact]
    public async Task From_the_fact_s_id_one_finds_its_batch_its_page_its_alert_and_the_delivery()
    {
        JsonObject[] found = await Eventually.ReadAsync(
            () => Task.FromResult(LinesOf(service.Fact)), lines => lines.Any(Is("was taken")), "the delivery's line");

        JsonObject batch = Assert.Single(found, line => Is("Batch from")(line));
        JsonObject raised = found.Last(Is("Alert "));
        JsonObject delivered = Assert.Single(found, line => Is("was taken")(line));
        Assert.Contains(found, line => Is("Projected")(line));
        Assert.Equal((string?)raised["AlertId"], (string?)delivered["AlertId"]);
        Assert.Equal("raised", (string?)raised["Change"]);
        Assert.All((JsonObject[])[batch, raised, delivered], line => Assert.Matches("^[0-9a-f]{32}$", (string)line["@tr"]!));
    }

    [Fact]
    public async Task No_log_line_shows_a_secret()
    {
        await Eventually.IsSoAsync(() => service.Log.Any(line => Is("was taken")(line)), "the delivery's line");

        Assert.All(service.Log, line => Assert.All(service.Secrets, secret => Assert.DoesNotContain(secret, line.ToJsonString(), StringComparison.Ordinal)));
    }

    [Fact]
    public async Task Spans_and_measures_reach_the_collector_that_the_standard_variables_name()
    {
        foreach (string span in (string[])["append facts", "project page", "alert raised", "deliver alert"])
            await Eventually.IsSoAsync(() => service.Catcher.Holds("/v1/traces", span), $"the span {span} to come");

        await Eventually.IsSoAsync(() => service.Catcher.Holds("/v1/metrics", "fleetlight.facts"), "measures to come");

        Assert.True(service.Catcher.Holds("/v1/traces", service.Fact));
        Assert.All(service.Secrets, secret => Assert.False(service.Catcher.Holds("/v1/traces", secret) || service.Catcher.Holds("/v1/metrics", secret)));
    }

    [Fact]
    public async Task The_service_asks_itself_whether_it_is_ready()
    {
        Ended ready = await service.AskHealthAsync();
        Ended nobody = await service.AskHealthAsync(port: "1");

        Assert.Equal(0, ready.Code);
        Assert.Contains("\"status\":\"ready\"", ready.Output, StringComparison.Ordinal);
        Assert.Equal(1, nobody.Code);
    }

    private JsonObject[] LinesOf(string fact) => [.. service.Log.Where(line => line["FactIds"] is JsonArray ids && ids.Any(id => (string?)id == fact))];

    private static Func<JsonObject, bool> Is(string text) => line => ((string?)line["@m"])?.Contains(text, StringComparison.Ordinal) is true;

    private async Task FollowAsync(CancellationToken cancel)
    {
        try
        {
            await service.FollowAsync(cancel);
        }
        catch (OperationCanceledException)
        {
            // Enough was seen.
        }
    }

    private async Task<HashSet<string>> ShownAsync() =>
        [.. (await service.Anybody.GetAsync("/metrics")).Text.Split('\n').Where(line => line.Length > 0 && line[0] != '#').Select(line => Name().Match(line).Value)];

    // A histogram or counter by its own name.
    private static string Stem(string name) => Ending().Replace(name, "");

    private static IEnumerable<string> Expressions()
    {
        JsonNode dashboard = JsonNode.Parse(Repository.Read("deploy/observability/dashboard.json"))!;
        return dashboard["panels"]!.AsArray().Where(panel => panel!["targets"] is not null)
            .SelectMany(panel => panel!["targets"]!.AsArray()).Select(target => (string)target!["expr"]!)
            .Concat(Yaml.Read("deploy/observability/alerts.yaml")["groups"]!.AsArray()
                .SelectMany(group => group!["rules"]!.AsArray()).Select(rule => (string)rule!["expr"]!));
    }

    // A series' name has an underscore or stands before its labels; words of the query language have neither.
    private static IEnumerable<string> NamesIn(string expression) =>
        Series().Matches(Grouping().Replace(Labels().Replace(expression, "{}"), " "))
            .Select(match => match.Groups[1].Value)
            .Where(name => name.Contains('_', StringComparison.Ordinal) && name != "histogram_quantile" && !OfPrometheus.Contains(name));

    [GeneratedRegex("^[a-zA-Z_:][a-zA-Z0-9_:]*")]
    private static partial Regex Name();

    [GeneratedRegex("_(bucket|sum|count|total)$")]
    private static partial Regex Ending();

    [GeneratedRegex("\\{[^}]*\\}|\\[[^\\]]*\\]")]
    private static partial Regex Labels();

    [GeneratedRegex("\\b(by|on|without) \\([^)]*\\)")]
    private static partial Regex Grouping();

    [GeneratedRegex("\\b([a-zA-Z][a-zA-Z0-9_]*)\\b(?!\\()")]
    private static partial Regex Series();
}

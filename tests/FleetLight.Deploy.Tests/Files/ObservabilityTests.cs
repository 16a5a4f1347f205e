using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Xunit;

namespace FleetLight.Deploy.Tests.Files;

/// <summary>The alert rules and the dashboard, judged by Prometheus' own tool and by their own structure.</summary>
public sealed partial class ObservabilityTests
{
    private const string Folder = "deploy/observability";

    [Fact]
    public async Task The_alert_rules_are_rules()
    {
        Ended ended = await Tool.RunAsync(Tool.Need("promtool", "prometheus"), "check", "rules", Repository.At($"{Folder}/alerts.yaml"));

        Assert.True(ended.Code == 0 && ended.Output.Contains("SUCCESS", StringComparison.Ordinal), ended.Output + ended.Errors);
    }

    [Fact]
    public async Task Every_alert_fires_when_it_should_and_not_before()
    {
        Ended ended = await Tool.RunAsync(Tool.Need("promtool", "prometheus"), "test", "rules", Repository.At($"{Folder}/alerts.tests.yaml"));

        Assert.True(ended.Code == 0 && ended.Output.Contains("SUCCESS", StringComparison.Ordinal), ended.Output + ended.Errors);
    }

    [Fact]
    public void Every_alert_has_a_unit_test_that_fires_it_and_one_that_does_not()
    {
        JsonNode[] tests = [.. Yaml.Read($"{Folder}/alerts.tests.yaml")["tests"]!.AsArray().SelectMany(test => test!["alert_rule_test"]!.AsArray())!];

        Assert.All(Rules.Select(rule => (string)rule["alert"]!), alert =>
        {
            JsonNode[] mine = [.. tests.Where(test => (string?)test["alertname"] == alert)];
            Assert.Contains(mine, test => test["exp_alerts"]!.AsArray().Count > 0);
            Assert.Contains(mine, test => test["exp_alerts"]!.AsArray().Count == 0);
        });
    }

    [Fact]
    public void Every_alert_leads_to_a_heading_of_the_runbook()
    {
        string[] headings = [.. Heading().Matches(Repository.Read("deploy/runbook/README.md")).Select(match => match.Groups[1].Value.ToLowerInvariant())];

        Assert.All(Rules, rule =>
        {
            string[] link = ((string)rule["annotations"]!["runbook_url"]!).Split('#');
            Assert.Equal("deploy/runbook/README.md", link[0]);
            Assert.Contains(link[1], headings);
            Assert.Equal(((string)rule["alert"]!).ToLowerInvariant(), link[1]);
            Assert.Contains((string)rule["labels"]!["severity"]!, (string[])["warning", "critical"]);
        });
    }

    [Fact]
    public async Task Prometheus_can_be_set_up_as_the_example_says()
    {
        Ended ended = await Tool.RunAsync(Tool.Need("promtool", "prometheus"), "check", "config", Repository.At($"{Folder}/prometheus.yaml"));

        Assert.True(ended.Code == 0, ended.Output + ended.Errors);
    }

    [Fact]
    public void The_dashboard_is_whole()
    {
        JsonNode dashboard = JsonNode.Parse(Repository.Read($"{Folder}/dashboard.json"))!;
        JsonNode[] panels = [.. dashboard["panels"]!.AsArray()!];
        JsonNode[] shown = [.. panels.Where(panel => (string?)panel["type"] != "row")];

        Assert.Equal(panels.Length, panels.Select(panel => (int)panel["id"]!).Distinct().Count());
        Assert.True(shown.Length >= 15, $"There are only {shown.Length} panels.");
        Assert.All(shown, panel =>
        {
            Assert.False(string.IsNullOrWhiteSpace((string?)panel["title"]));
            Assert.False(string.IsNullOrWhiteSpace((string?)panel["description"]));
            Assert.NotEmpty(panel["targets"]!.AsArray());
            Assert.Equal("${source}", (string?)panel["datasource"]!["uid"]);
            Assert.False(string.IsNullOrWhiteSpace((string?)panel["fieldConfig"]!["defaults"]!["unit"]));
        });
        Assert.Contains(dashboard["templating"]!["list"]!.AsArray(), variable => (string?)variable!["name"] == "source" && (string?)variable["type"] == "datasource");
        Assert.Empty(Overlaps(panels));
    }

    [Fact]
    public async Task Every_expression_of_the_dashboard_is_a_query()
    {
        string promtool = Tool.Need("promtool", "prometheus");
        JsonNode dashboard = JsonNode.Parse(Repository.Read($"{Folder}/dashboard.json"))!;
        string[] queries = [.. dashboard["panels"]!.AsArray().Where(panel => panel!["targets"] is not null)
            .SelectMany(panel => panel!["targets"]!.AsArray()).Select(target => ((string)target!["expr"]!).Replace("$__rate_interval", "5m", StringComparison.Ordinal))];

        // As recording rules, for those are what the tool reads; JSON is YAML too.
        JsonArray rules = [.. queries.Select((query, index) => new JsonObject { ["record"] = $"panel:{index}", ["expr"] = query })];
        Ended ended = await CheckRulesAsync(promtool, rules);
        rules.Add(new JsonObject { ["record"] = "panel:wrong", ["expr"] = "sum(rate(" });
        Ended wrong = await CheckRulesAsync(promtool, rules);

        Assert.True(ended.Code == 0, ended.Output + ended.Errors);
        Assert.NotEqual(0, wrong.Code);
    }

    private static async Task<Ended> CheckRulesAsync(string promtool, JsonArray rules)
    {
        string file = Path.GetTempFileName();
        await File.WriteAllTextAsync(file, new JsonObject { ["groups"] = new JsonArray(new JsonObject { ["name"] = "panels", ["rules"] = rules.DeepClone() }) }.ToJsonString());
        Ended ended = await Tool.RunAsync(promtool, "check", "rules", file);
        File.Delete(file);
        return ended;
    }

    private static IEnumerable<JsonNode> Rules => Yaml.Read($"{Folder}/alerts.yaml")["groups"]!.AsArray().SelectMany(group => group!["rules"]!.AsArray())!;

    private static IEnumerable<string> Overlaps(JsonNode[] panels)
    {
        HashSet<(int, int)> taken = [];
        foreach (JsonNode panel in panels)
        {
            JsonNode at = panel["gridPos"]!;
            for (int x = (int)at["x"]!; x < (int)at["x"]! + (int)at["w"]!; x++)
            {
                for (int y = (int)at["y"]!; y < (int)at["y"]! + (int)at["h"]!; y++)
                {
                    if (x >= 24 || !taken.Add((x, y))) yield return $"{panel["title"]} at {x}, {y}";
                }
            }
        }
    }

    [GeneratedRegex("^#+ (.+)$", RegexOptions.Multiline)]
    private static partial Regex Heading();
}

using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Alerts;
using FsCheck;
using FsCheck.Xunit;

namespace FleetLight.Record.Tests.Alerts;

public sealed class AlertDeciderTests
{
    private static readonly DateTimeOffset At = new(2026, 5, 1, 12, 0, 0, TimeSpan.Zero);

    [Fact]
    public void What_is_new_is_raised()
    {
        var raised = Assert.IsType<AlertRaised>(Assert.Single(Decide([], [Finding("a")])));

        Assert.Equal(AlertIds.Of("tenant", Finding("a")), raised.AlertId);
        Assert.Equal("site", raised.SiteId);
        Assert.Equal(At, raised.At);
    }

    [Fact]
    public void What_stayed_the_same_says_nothing() => Assert.Empty(Decide([Finding("a")], [Finding("a")]));

    [Fact]
    public void More_evidence_or_another_severity_or_reason_updates()
    {
        var before = Finding("a");
        Finding[] after =
        [
            before with { Evidence = ["x#1", "x#2"] }, before with { Severity = AlertSeverity.Serious },
            before with { Reason = "Worse." },
        ];

        Assert.All(after, finding => Assert.IsType<AlertUpdated>(Assert.Single(Decide([before], [finding]))));
    }

    [Fact]
    public void Another_remedy_alone_says_nothing() =>
        Assert.Empty(Decide([Finding("a")], [Finding("a") with { Remedy = "Otherwise." }]));

    [Fact]
    public void Another_version_of_the_models_that_finds_the_same_says_nothing() =>
        Assert.Empty(Decide([Finding("a") with { ModelVersion = 1 }], [Finding("a") with { ModelVersion = 2 }]));

    [Fact]
    public void What_has_gone_is_cleared_by_the_facts_that_came()
    {
        var cleared = Assert.IsType<AlertCleared>(Assert.Single(
            AlertDecider.Decide("tenant", "site", [Finding("a")], [], At, ["crew#7"])));

        Assert.Equal(["crew#7"], cleared.ClearedBy);
    }

    [Fact]
    public void The_cause_tells_findings_of_one_rule_apart()
    {
        var events = Decide([Finding("a", "one")], [Finding("a", "two")]);

        Assert.Collection(
            events,
            first => Assert.IsType<AlertRaised>(first),
            second => Assert.IsType<AlertCleared>(second));
    }

    [Property(MaxTest = 500)]
    public void Along_any_way_of_findings_nothing_is_raised_twice_and_what_stands_is_what_is_found(byte[] steps)
    {
        var (views, before) = (new Dictionary<string, AlertView>(), (IReadOnlyList<Finding>)[]);
        foreach (var step in steps)
        {
            IReadOnlyList<Finding> after =
                [.. Enumerable.Range(0, 4).Where(i => (step >> i & 1) == 1).Select(i => Finding($"r{i}") with { Reason = $"{step & 16}" })];
            foreach (var happened in Decide(before, after))
            {
                var alert = views.GetValueOrDefault(happened.AlertId);
                if (happened is AlertRaised) Assert.True(alert is null or { Standing: AlertStanding.Cleared });
                else Assert.NotEqual(AlertStanding.Cleared, alert!.Standing);
                views[happened.AlertId] = AlertFold.Apply(alert, happened)!;
            }

            before = after;
        }

        Assert.Equal(
            before.Select(finding => AlertIds.Of("tenant", finding)).Order(),
            views.Values.Where(alert => alert.Standing == AlertStanding.Raised).Select(alert => alert.Id).Order());
    }

    [Property]
    public void The_order_of_the_findings_does_not_show(int seed)
    {
        Finding[] findings = [Finding("a"), Finding("b", "x"), Finding("b", "y"), Finding("c")];
        var shuffled = findings.ToArray();
        new System.Random(seed).Shuffle(shuffled);

        Assert.Equal(
            Decide([], findings).Select(happened => happened.AlertId),
            Decide([], shuffled).Select(happened => happened.AlertId));
    }

    private static IReadOnlyList<IAlertEvent> Decide(IReadOnlyList<Finding> before, IReadOnlyList<Finding> after) =>
        AlertDecider.Decide("tenant", "site", before, after, At);

    internal static Finding Finding(string rule, string cause = "") => new()
    {
        Rule = rule,
        Subject = new(ThingKind.Duct, "d1"),
        Cause = cause,
        Severity = AlertSeverity.Notice,
        Reason = "It is so.",
        Remedy = "Change it.",
        CircuitIds = [],
        Evidence = ["x#1"],
    };
}

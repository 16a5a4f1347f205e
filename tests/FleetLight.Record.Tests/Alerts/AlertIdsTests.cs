using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Alerts;

namespace FleetLight.Record.Tests.Alerts;

public sealed class AlertIdsTests
{
    private static readonly Finding Finding = AlertDeciderTests.Finding("duct-left-open");

    [Fact]
    public void An_id_is_short_lowercase_hexadecimal_and_never_changes() =>
        // Kept alerts are found by it: another value would raise every one of them again.
        Assert.Equal("776c96bb7cfdd595dedd8656", AlertIds.Of("tenant", Finding));

    [Fact]
    public void Wording_severity_and_evidence_play_no_part() => Assert.Equal(
        AlertIds.Of("tenant", Finding),
        AlertIds.Of("tenant", Finding with { Severity = AlertSeverity.Serious, Reason = "More.", Evidence = ["y#2"] }));

    [Fact]
    public void Tenant_rule_subject_and_cause_each_play_a_part()
    {
        string[] ids =
        [
            AlertIds.Of("tenant", Finding),
            AlertIds.Of("other", Finding),
            AlertIds.Of("tenant", Finding with { Rule = "no-string-left" }),
            AlertIds.Of("tenant", Finding with { Subject = new(ThingKind.Duct, "d2") }),
            AlertIds.Of("tenant", Finding with { Subject = new(ThingKind.Cable, "d1") }),
            AlertIds.Of("tenant", Finding with { Cause = "near" }),
        ];

        Assert.Equal(ids.Length, ids.Distinct().Count());
    }
}

using FleetLight.Contracts.Views;
using FleetLight.Record.Alerts;

namespace FleetLight.Record.Tests.Alerts;

public sealed class AlertFoldTests
{
    private static readonly DateTimeOffset Noon = new(2026, 5, 1, 12, 0, 0, TimeSpan.Zero);
    private static readonly Finding Finding = AlertDeciderTests.Finding("duct-left-open");

    [Fact]
    public void A_raised_alert_stands_once()
    {
        var alert = AlertFold.Fold([Raised(0)])!;

        Assert.Equal(AlertStanding.Raised, alert.Standing);
        Assert.Equal(1, alert.TimesRaised);
        Assert.Equal(Noon, alert.RaisedAt);
    }

    [Fact]
    public void Raised_while_it_stands_it_is_not_raised_again()
    {
        var alert = AlertFold.Fold([Raised(0), Raised(1)])!;

        Assert.Equal(1, alert.TimesRaised);
        Assert.Equal(Noon, alert.RaisedAt);
    }

    [Fact]
    public void Raised_after_it_was_cleared_counts_again_and_forgets_who_took_note()
    {
        var alert = AlertFold.Fold([Raised(0), Noted(1), Cleared(2), Raised(3)])!;

        Assert.Equal(AlertStanding.Raised, alert.Standing);
        Assert.Equal(2, alert.TimesRaised);
        Assert.Equal(Noon.AddHours(3), alert.RaisedAt);
        Assert.Null(alert.AcknowledgedBy);
        Assert.Null(alert.ClearedAt);
    }

    [Fact]
    public void A_person_takes_note_and_the_note_stays_while_it_is_updated()
    {
        var worse = Finding with { Severity = AlertSeverity.Serious };
        var alert = AlertFold.Fold(
            [Raised(0), Noted(1), new AlertUpdated { AlertId = "a", SiteId = "s", Finding = worse, At = Noon.AddHours(2) }])!;

        Assert.Equal(AlertStanding.Acknowledged, alert.Standing);
        Assert.Equal("Anna", alert.AcknowledgedBy);
        Assert.Equal("Ordered plugs.", alert.Note);
        Assert.Equal(worse, alert.Finding);
    }

    [Fact]
    public void Taking_note_of_a_cleared_alert_has_no_effect()
    {
        var cleared = AlertFold.Fold([Raised(0), Cleared(1)]);

        Assert.Equal(cleared, AlertFold.Apply(cleared, Noted(2)));
        Assert.Equal(Noon.AddHours(1), cleared!.ClearedAt);
    }

    [Fact]
    public void What_was_never_raised_is_nothing() => Assert.Null(AlertFold.Fold([Noted(0), Cleared(1)]));

    private static AlertRaised Raised(int hour) =>
        new() { AlertId = "a", SiteId = "s", Finding = Finding, At = Noon.AddHours(hour) };

    private static AlertAcknowledged Noted(int hour) =>
        new() { AlertId = "a", By = "Anna", Note = "Ordered plugs.", At = Noon.AddHours(hour) };

    private static AlertCleared Cleared(int hour) =>
        new() { AlertId = "a", SiteId = "s", ClearedBy = ["x#2"], At = Noon.AddHours(hour) };
}

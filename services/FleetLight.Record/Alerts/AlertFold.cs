using FleetLight.Contracts.Views;

namespace FleetLight.Record.Alerts;

/// <summary>Folds what happened to an alert into its state.</summary>
public static class AlertFold
{
    /// <summary>The state after all events; none where it was never raised.</summary>
    /// <param name="events">The events of one alert in the order in which they were kept.</param>
    public static AlertView? Fold(IEnumerable<IAlertEvent> events)
    {
        AlertView? view = null;
        foreach (var one in events) view = Apply(view, one);
        return view;
    }

    /// <summary>The state after one more event.</summary>
    /// <param name="alert">The state before; none before the first event.</param>
    /// <param name="happened">What happened.</param>
    public static AlertView? Apply(AlertView? alert, IAlertEvent happened) => happened switch
    {
        AlertRaised raised => Raise(alert, raised),
        AlertUpdated updated when alert is { Standing: not AlertStanding.Cleared } =>
            alert with { SiteId = updated.SiteId, Finding = updated.Finding },
        AlertAcknowledged noted when alert is { Standing: not AlertStanding.Cleared } => alert with
        {
            Standing = AlertStanding.Acknowledged,
            AcknowledgedBy = noted.By,
            AcknowledgedAt = noted.At,
            Note = noted.Note,
        },
        AlertCleared cleared when alert is { Standing: not AlertStanding.Cleared } =>
            alert with { Standing = AlertStanding.Cleared, ClearedAt = cleared.At },
        _ => alert,
    };

    // Raised while it stands says nothing new but the finding: an alert is raised once per cause. Raised after it was
    // cleared, the cause has returned, and whoever took note then has not seen this.
    private static AlertView Raise(AlertView? alert, AlertRaised raised) =>
        alert is { Standing: not AlertStanding.Cleared }
            ? alert with { SiteId = raised.SiteId, Finding = raised.Finding }
            : new AlertView
            {
                Id = raised.AlertId,
                SiteId = raised.SiteId,
                Finding = raised.Finding,
                Standing = AlertStanding.Raised,
                RaisedAt = raised.At,
                TimesRaised = (alert?.TimesRaised ?? 0) + 1,
            };
}

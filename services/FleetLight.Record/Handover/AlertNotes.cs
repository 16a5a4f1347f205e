using FleetLight.Contracts.Views;
using FleetLight.Record.Alerts;

namespace FleetLight.Record.Handover;

/// <summary>What people noted of an alert.</summary>
public static class AlertNotes
{
    /// <summary>The notes since it was last raised, oldest first: who took note before that has not seen what stands now.</summary>
    /// <param name="events">The events of one alert in the order in which they were kept.</param>
    /// <param name="until">Later ones are passed over; none where absent.</param>
    public static IReadOnlyList<HandoverNote> Of(IEnumerable<IAlertEvent> events, DateTimeOffset? until)
    {
        ArgumentNullException.ThrowIfNull(events);
        AlertView? alert = null;
        var notes = new List<HandoverNote>();
        foreach (var each in events.Where(each => until is not { } end || each.At <= end))
        {
            alert = AlertFold.Apply(alert, each);
            if (alert is null or { Standing: not AlertStanding.Acknowledged }) notes.Clear();
            else if (each is AlertAcknowledged noted) notes.Add(Of(alert.Finding, noted));
        }

        return notes;
    }

    private static HandoverNote Of(Finding alert, AlertAcknowledged noted) =>
        new() { Rule = alert.Rule, Subject = alert.Subject, Cause = alert.Cause, By = noted.By, At = noted.At, Says = noted.Note };
}

using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Handover.Html;
using FleetLight.Handover.Pdf;
using FleetLight.Handover.Writing;
using FleetLight.Record.Alerts;
using FleetLight.Record.Handover;
using UglyToad.PdfPig;
using UglyToad.PdfPig.DocumentLayoutAnalysis.TextExtractor;

namespace FleetLight.Handover.Tests;

/// <summary>What people noted of alerts, in a pack.</summary>
public sealed class NotesTests
{
    private static readonly Finding Found = new()
    {
        Rule = "duct-left-open",
        Subject = new ThingRef(ThingKind.Duct, "d1"),
        Cause = "far",
        Severity = AlertSeverity.Warning,
        Reason = "The far end is open.",
        Remedy = "Plug it.",
        CircuitIds = [],
        Evidence = [],
    };

    [Fact]
    public void The_notes_of_an_alert_are_those_since_it_was_last_raised()
    {
        IAlertEvent[] events = [Raised(1), Noted(2, "of the first time"), Cleared(3), Raised(4), Noted(5, "plug ordered"), Noted(6, null), Noted(9, "later")];

        var notes = AlertNotes.Of(events, At(8));

        Assert.Equal([(At(5), "plug ordered"), (At(6), null)], notes.Select(note => (note.At, note.Says)));
        Assert.All(notes, note => Assert.Equal(("Office", Found.Rule, Found.Subject, Found.Cause), (note.By, note.Rule, note.Subject, note.Cause)));
        Assert.Equal("of the first time", Assert.Single(AlertNotes.Of(events, At(2))).Says);
        Assert.Empty(AlertNotes.Of(events, At(4)));
        Assert.Equal(3, AlertNotes.Of(events, null).Count);
    }

    [Fact]
    public void Notes_of_alerts_that_stand_are_told_with_who_and_when_and_those_of_others_are_not()
    {
        var alert = Garden.Pack(1, 1, 0).Alerts[0];
        HandoverNote Of(string cause, string says) =>
            new() { Rule = alert.Rule, Subject = alert.Subject, Cause = cause, By = "Office north", At = new(2026, 10, 2, 9, 30, 0, TimeSpan.Zero), Says = says };
        HandoverNote[] notes = [Of(alert.Cause, "Ordered with the next visit."), Of("no such cause", "Of nothing.")];
        var pack = HandoverMaker.Of(Garden.Recorded(1, 1, 0), Garden.Wish() with { Notes = notes })!;

        Assert.Equal("Ordered with the next visit.", Assert.Single(pack.Notes).Says);
        Assert.Equal(Garden.Pack(1, 1, 0).Digest.Sha256, pack.Digest.Sha256);
        using var pdf = PdfDocument.Open(PackPdf.Of(PackWriter.Write(pack), PackPaper.A4, Garden.Now));
        var paper = string.Join('\n', pdf.GetPages().Select(page => ContentOrderTextExtractor.GetText(page)));
        foreach (var text in (string[])[PackHtml.Of(PackWriter.Write(pack)), paper.ReplaceLineEndings(" ")])
        {
            Assert.Contains("What was noted of it", text, StringComparison.Ordinal);
            Assert.Contains("Office north", text, StringComparison.Ordinal);
            Assert.Contains("2 Oct 2026 09:30", text.Replace("2026 \n", "2026 ", StringComparison.Ordinal), StringComparison.Ordinal);
            Assert.DoesNotContain("Of nothing.", text, StringComparison.Ordinal);
        }

        Assert.DoesNotContain("What was noted", PackHtml.Of(PackWriter.Write(Garden.Pack(1, 1, 0))), StringComparison.Ordinal);
    }

    private static DateTimeOffset At(int day) => new(2026, 9, day, 12, 0, 0, TimeSpan.Zero);

    private static AlertRaised Raised(int day) => new() { AlertId = "a", SiteId = "s1", Finding = Found, At = At(day) };

    private static AlertAcknowledged Noted(int day, string? says) => new() { AlertId = "a", By = "Office", Note = says, At = At(day) };

    private static AlertCleared Cleared(int day) => new() { AlertId = "a", SiteId = "s1", ClearedBy = [], At = At(day) };
}

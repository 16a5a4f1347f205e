using System.Globalization;
using FleetLight.Field.Keeping;

namespace FleetLight.Field.Standing;

/// <summary>What the line of the page says of sending.</summary>
/// <param name="Text">The text.</param>
/// <param name="Asks">Whether a person has to do something.</param>
public sealed record StandingLine(string Text, bool Asks)
{
    /// <summary>The line.</summary>
    /// <param name="outbox">How sending stands.</param>
    /// <param name="hasSignal">Whether the browser sees a signal.</param>
    /// <param name="now">The time by the phone's clock, with its offset.</param>
    public static StandingLine Of(OutboxSummary outbox, bool hasSignal, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(outbox);
        var waits = Waits(outbox);
        if (outbox.KeyNotTaken)
            return new($"This phone's key is not taken any more. {(waits ?? "Nothing waits")}{(waits is null ? "" : ", safe here")}. Ask the office for a new code.", true);
        var refused = outbox.Refused > 0 ? $" {Count(outbox.Refused, "fact")} refused: see what to mend." : "";
        if (outbox.Elsewhere > 0) refused += $" {Count(outbox.Elsewhere, "fact")} of another device wait here.";
        var asks = outbox.Refused > 0 || outbox.Elsewhere > 0;
        if (waits is null)
        {
            var sent = outbox.SentAt is { } at ? $"All is sent, last at {Moment(at, now)}." : "Nothing waits.";
            return new(sent + (hasSignal ? "" : " No signal.") + refused, asks);
        }

        var why = !hasSignal ? "no signal" : outbox.Trouble is null ? "being sent" : "the service is not reached";
        return new($"{waits}: {why}.{refused}", asks);
    }

    /// <summary>A moment of the phone's time: the hour where it was today, else the day as well.</summary>
    public static string Moment(DateTimeOffset at, DateTimeOffset now)
    {
        var local = at.ToOffset(now.Offset);
        return local.ToString(local.Date == now.Date ? "HH:mm" : "d MMM HH:mm", CultureInfo.InvariantCulture);
    }

    /// <summary>A number of things with its word.</summary>
    public static string Count(int number, string one) => number == 1 ? $"1 {one}" : $"{number.ToString(CultureInfo.InvariantCulture)} {one}s";

    private static string? Waits(OutboxSummary outbox) => (outbox.Waiting, outbox.Photos) switch
    {
        (0, 0) => null,
        (0, var photos) => $"{Count(photos, "photo")} {(photos == 1 ? "waits" : "wait")}",
        (var facts, 0) => $"{Count(facts, "fact")} {(facts == 1 ? "waits" : "wait")}",
        var (facts, photos) => $"{Count(facts, "fact")} and {Count(photos, "photo")} wait",
    };
}

using FleetLight.Contracts.Wire;

namespace FleetLight.Record.Intake;

/// <summary>
/// Decides when a fact happened. The device's own time is kept as it was sent; what orders the facts is that time
/// corrected by the error which the device's clock showed as it sent the batch. Where that cannot be, the time as sent counts if
/// it can be, because the clock was set in between; else the moment of arrival does.
/// </summary>
public static class FactClock
{
    /// <summary>A clock error up to this size is the way of the message and the second hand, not an error: 2 minutes.</summary>
    public static readonly TimeSpan ErrorLeftAlone = TimeSpan.FromMinutes(2);

    /// <summary>A time may lie this far ahead of the moment of arrival before it is doubted: 5 minutes.</summary>
    public static readonly TimeSpan AheadAllowed = TimeSpan.FromMinutes(5);

    /// <summary>Nothing recorded on a device is older than this: 2005, before any device that could have recorded it.</summary>
    public static readonly DateTimeOffset Oldest = new(2005, 1, 1, 0, 0, 0, TimeSpan.Zero);

    /// <summary>When it happened, and what is doubtful about it.</summary>
    /// <param name="deviceTime">The time in the fact.</param>
    /// <param name="deviceClock">What the device's clock showed as it sent; none where it did not say.</param>
    /// <param name="receivedAt">The moment of arrival by the server's clock.</param>
    public static FactTime Decide(DateTimeOffset deviceTime, DateTimeOffset? deviceClock, DateTimeOffset receivedAt)
    {
        var error = deviceClock - receivedAt;
        var corrected = deviceTime.ToUniversalTime();
        TimeDoubt? doubt = null;
        if (error is { } off && off.Duration() > ErrorLeftAlone)
        {
            doubt = TimeDoubt.ClockCorrected;
            var ticks = Math.Clamp((decimal)corrected.UtcTicks - off.Ticks, 0, DateTimeOffset.MaxValue.UtcTicks);
            corrected = new DateTimeOffset((long)ticks, TimeSpan.Zero);
        }

        // The clock was set between recording and sending: its error now says nothing of then, and the time as sent can be.
        if (doubt is not null && !CanBe(corrected, receivedAt) && CanBe(deviceTime.ToUniversalTime(), receivedAt))
            return new FactTime(Microseconds(deviceTime.ToUniversalTime()), error?.TotalSeconds, TimeDoubt.ClockJumped);
        if (IsAhead(corrected, receivedAt))
            return new FactTime(Microseconds(receivedAt), error?.TotalSeconds, TimeDoubt.Ahead);
        if (corrected < Oldest)
            return new FactTime(Microseconds(receivedAt), error?.TotalSeconds, TimeDoubt.ImplausiblyOld);
        return new FactTime(Microseconds(corrected), error?.TotalSeconds, doubt);
    }

    private static bool CanBe(DateTimeOffset time, DateTimeOffset receivedAt) => time >= Oldest && !IsAhead(time, receivedAt);

    private static bool IsAhead(DateTimeOffset time, DateTimeOffset receivedAt) => time > receivedAt && time - receivedAt > AheadAllowed;

    // The store keeps microseconds: what orders the facts must not change by being stored.
    private static DateTimeOffset Microseconds(DateTimeOffset time) =>
        new(time.UtcTicks - time.UtcTicks % TimeSpan.TicksPerMicrosecond, TimeSpan.Zero);
}

/// <summary>When a fact happened.</summary>
/// <param name="HappenedAt">The time that orders the facts.</param>
/// <param name="ClockErrorSeconds">How far the device's clock was ahead as it sent, s; none where it did not say.</param>
/// <param name="Doubt">What is doubtful about the time.</param>
public sealed record FactTime(DateTimeOffset HappenedAt, double? ClockErrorSeconds, TimeDoubt? Doubt);

namespace FleetLight.Service.Tests.Hosting;

/// <summary>
/// A wall clock that a test sets. Only what the clock shows is the test's: timers and stop watches run as ever, so that
/// nothing in the service stands still because its clock does.
/// </summary>
public sealed class TestClock(DateTimeOffset start) : TimeProvider
{
    /// <summary>
    /// What the clock shows at first: after the facts of a test, and after the database's own clock, so that what the
    /// database stamped is never still to come.
    /// </summary>
    public static readonly DateTimeOffset Start = new(2041, 6, 1, 12, 0, 0, TimeSpan.Zero);

    private long ticks = start.UtcTicks;

    /// <summary>What the clock shows.</summary>
    public DateTimeOffset Now
    {
        get => new(Interlocked.Read(ref ticks), TimeSpan.Zero);
        set => Interlocked.Exchange(ref ticks, value.UtcTicks);
    }

    /// <inheritdoc/>
    public override DateTimeOffset GetUtcNow() => Now;

    /// <summary>Puts the clock on.</summary>
    public void Advance(TimeSpan by) => Interlocked.Add(ref ticks, by.Ticks);
}

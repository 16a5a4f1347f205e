namespace FleetLight.Demo.Tests.Sending;

/// <summary>A clock that jumps over every wait, so that nothing in a test really waits.</summary>
internal sealed class HastyClock(DateTimeOffset start) : TimeProvider
{
    private long ticks = start.UtcTicks;

    public override long TimestampFrequency => TimeSpan.TicksPerSecond;

    public override DateTimeOffset GetUtcNow() => new(Interlocked.Read(ref ticks), TimeSpan.Zero);

    public override long GetTimestamp() => Interlocked.Read(ref ticks);

    public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period)
    {
        if (dueTime >= TimeSpan.Zero)
        {
            Interlocked.Add(ref ticks, dueTime.Ticks);
            ThreadPool.QueueUserWorkItem(_ => callback(state));
        }

        return new Spent();
    }

    private sealed class Spent : ITimer
    {
        public bool Change(TimeSpan dueTime, TimeSpan period) => true;

        public void Dispose()
        {
        }

        public ValueTask DisposeAsync() => ValueTask.CompletedTask;
    }
}

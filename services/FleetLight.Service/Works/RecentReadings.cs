using FleetLight.Record.Circuits;

namespace FleetLight.Service.Works;

/// <summary>What a circuit keeps of its readings.</summary>
/// <param name="Window">The newest.</param>
/// <param name="History">Those over months, thinned out; none where an earlier version, which kept none, wrote the circuit.</param>
public sealed record RecentReadings(ReadingWindow Window, ReadingHistory? History)
{
    /// <summary>What is kept where nothing was read.</summary>
    public static RecentReadings Empty { get; } = new(ReadingWindow.Empty, ReadingHistory.Empty);

    /// <summary>What is kept with these readings beside.</summary>
    public RecentReadings With(IEnumerable<ReadingEntry> fresh)
    {
        var (window, history) = (Window, History ?? ReadingHistory.Empty);
        foreach (var entry in fresh) (window, history) = (window.With(entry), history.With(entry));
        return new(window, history);
    }

    /// <summary>Whether both say the same.</summary>
    public bool SaysTheSame(RecentReadings other) =>
        Window.Cut == other.Window.Cut && Window.Entries.SequenceEqual(other.Window.Entries)
        && History is { } history && other.History is { } otherHistory && history.Entries.SequenceEqual(otherHistory.Entries);
}

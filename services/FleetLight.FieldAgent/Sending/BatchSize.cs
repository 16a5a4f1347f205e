using FleetLight.Contracts.Wire;

namespace FleetLight.FieldAgent.Sending;

/// <summary>What became of a batch as a whole.</summary>
internal enum BatchFate
{
    /// <summary>It was answered.</summary>
    Answered,

    /// <summary>It was too large, or its answer did not come in time or was cut.</summary>
    TooMuch,

    /// <summary>It was not handled, for no reason of its size.</summary>
    NotHandled,
}

/// <summary>How many facts a batch holds. It grows while batches are answered quickly and halves where they are too much. Pure.</summary>
/// <param name="Events">Number of facts, 1 to 1,000.</param>
internal readonly record struct BatchSize(int Events)
{
    private const int Least = 1;

    /// <summary>What a sender starts with: little enough for a poor connection.</summary>
    public static BatchSize First { get; } = new(50);

    /// <summary>The size after a batch.</summary>
    /// <param name="fate">What became of it.</param>
    /// <param name="sent">Number of facts that it held.</param>
    /// <param name="took">How long it took.</param>
    /// <param name="limit">How long it might have taken.</param>
    public BatchSize After(BatchFate fate, int sent, TimeSpan took, TimeSpan limit) => fate switch
    {
        // Half of what was sent, not of what might have been: a batch may hold less than its size.
        BatchFate.TooMuch => new(Math.Max(Least, Math.Min(Events, sent) / 2)),
        BatchFate.Answered when sent >= Events && took < limit / 4 => new(Math.Min(Envelope.MostEvents, Events + Math.Max(1, Events / 2))),
        _ => this,
    };
}

/// <summary>Cuts a batch so that it stays within a number of events and of bytes, brackets and commas counted. Pure but for its sum.</summary>
internal sealed class BatchCut(int mostEvents, int mostBytes)
{
    private int events;
    private long bytes = 1;

    /// <summary>Whether an event of that many bytes goes in besides; if so it is counted. The first one always does.</summary>
    public bool Takes(int length)
    {
        if (events > 0 && (events >= mostEvents || bytes + length + 1 > mostBytes)) return false;
        events++;
        bytes += length + 1;
        return true;
    }
}

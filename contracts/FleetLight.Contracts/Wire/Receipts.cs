namespace FleetLight.Contracts.Wire;

/// <summary>What became of a fact.</summary>
public enum FactOutcome
{
    /// <summary>It is kept for ever.</summary>
    Recorded,

    /// <summary>It was kept before; nothing changed.</summary>
    Duplicate,

    /// <summary>It was set aside with a problem, where an office user can mend it.</summary>
    Refused,
}

/// <summary>What became of one event of a batch.</summary>
public sealed record EventOutcome
{
    /// <summary>Number of its place in the batch, from 0.</summary>
    public required int Index { get; init; }

    /// <summary>Its id, where it had one.</summary>
    public string? Id { get; init; }

    /// <summary>What became of it.</summary>
    public required FactOutcome Outcome { get; init; }

    /// <summary>What is doubtful about its time, where anything is.</summary>
    public TimeDoubt? TimeDoubt { get; init; }

    /// <summary>Why it was refused.</summary>
    public Problem? Problem { get; init; }

    /// <summary>Under which id it was set aside.</summary>
    public string? RefusedId { get; init; }
}

/// <summary>What is doubtful about a fact's time.</summary>
public enum TimeDoubt
{
    /// <summary>The device's clock was off; the time was corrected by the error it showed when it sent.</summary>
    ClockCorrected,

    /// <summary>The time lies in the future; the moment of arrival orders the fact instead.</summary>
    Ahead,

    /// <summary>The time is implausibly old; the moment of arrival orders the fact instead.</summary>
    ImplausiblyOld,

    /// <summary>The clock was set between recording and sending: corrected by its error the time could not be, so the time as sent counts.</summary>
    ClockJumped,
}

/// <summary>A range of running numbers, both ends included.</summary>
/// <param name="From">First running number.</param>
/// <param name="Through">Last running number.</param>
public sealed record NumberRange(int From, int Through);

/// <summary>How far a device is complete.</summary>
public sealed record Receipt
{
    /// <summary>The device's source.</summary>
    public required string Source { get; init; }

    /// <summary>Every running number from 1 through this one is in hand (recorded or set aside); 0 for none.</summary>
    public required int CompleteThrough { get; init; }

    /// <summary>The greatest running number in hand.</summary>
    public required int Highest { get; init; }

    /// <summary>Numbers below the highest that are missing, at most 100 ranges from the lowest.</summary>
    public required IReadOnlyList<NumberRange> Missing { get; init; }
}

/// <summary>Answer to a batch.</summary>
public sealed record BatchReceipt
{
    /// <summary>How far the device is complete now.</summary>
    public required Receipt Receipt { get; init; }

    /// <summary>What became of each event, in the order of the batch.</summary>
    public required IReadOnlyList<EventOutcome> Outcomes { get; init; }

    /// <summary>Number of events that were recorded.</summary>
    public required int Recorded { get; init; }

    /// <summary>Number of events that were known.</summary>
    public required int Duplicates { get; init; }

    /// <summary>Number of events that were refused.</summary>
    public required int Refused { get; init; }

    /// <summary>How far the device's clock was ahead of the server's, s; none where none was shown.</summary>
    public double? ClockErrorSeconds { get; init; }
}

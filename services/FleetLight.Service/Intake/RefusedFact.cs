using FleetLight.Contracts.Wire;

namespace FleetLight.Service.Intake;

/// <summary>What became of a refused fact since.</summary>
public enum RefusedState
{
    /// <summary>It waits for somebody to mend it.</summary>
    Open,

    /// <summary>It was mended and recorded.</summary>
    Mended,

    /// <summary>Somebody decided that it is not needed.</summary>
    Dismissed,
}

/// <summary>A fact that was set aside: nothing that a device sent is lost because it was wrong.</summary>
public sealed class RefusedFact
{
    /// <summary>Follows from the source and the text, so that the same refused fact is set aside once.</summary>
    public required string Id { get; set; }

    /// <summary>Source that sent it.</summary>
    public required string Source { get; set; }

    /// <summary>Its id in the envelope, where it had one.</summary>
    public string? FactId { get; set; }

    /// <summary>Its running number, where it had one.</summary>
    public int? RunningNumber { get; set; }

    /// <summary>The event as it was sent.</summary>
    public required string Text { get; set; }

    /// <summary>Why it was refused.</summary>
    public required Problem Problem { get; set; }

    /// <summary>When it was first refused.</summary>
    public required DateTimeOffset RefusedAt { get; set; }

    /// <summary>What became of it.</summary>
    public required RefusedState State { get; set; }

    /// <summary>Key that mended or dismissed it.</summary>
    public string? SettledBy { get; set; }

    /// <summary>When.</summary>
    public DateTimeOffset? SettledAt { get; set; }

    /// <summary>What was noted.</summary>
    public string? Note { get; set; }
}

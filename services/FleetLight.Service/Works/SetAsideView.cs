namespace FleetLight.Service.Works;

/// <summary>What stands aside.</summary>
public enum SetAsideKind
{
    /// <summary>A fact that makes the state of a thing fail; the state is worked out without it.</summary>
    Fact,

    /// <summary>A thing whose state cannot be worked out any more; it keeps the state that it had.</summary>
    Thing,

    /// <summary>A fact that lies in the store in a form that cannot be read.</summary>
    Unreadable,
}

/// <summary>Something recorded that the states have to do without until it is mended. Nothing of it is lost.</summary>
public sealed record SetAsideView
{
    /// <summary>Its id here.</summary>
    public required string Id { get; init; }

    /// <summary>What stands aside.</summary>
    public required SetAsideKind Kind { get; init; }

    /// <summary>The fact, as <c>source#id</c>.</summary>
    public string? Fact { get; init; }

    /// <summary>Type of the fact.</summary>
    public string? Type { get; init; }

    /// <summary>The thing whose state fails, as <c>kind:id</c>; none where that cannot be said.</summary>
    public string? Thing { get; init; }

    /// <summary>The error.</summary>
    public required string Error { get; init; }

    /// <summary>When the newest fact of that moment was recorded, or when the event could not be read.</summary>
    public required DateTimeOffset At { get; init; }
}

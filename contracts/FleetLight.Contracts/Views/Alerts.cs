namespace FleetLight.Contracts.Views;

/// <summary>How much an alert matters.</summary>
public enum AlertSeverity
{
    /// <summary>Work left to do.</summary>
    Notice,

    /// <summary>It will cause trouble if left.</summary>
    Warning,

    /// <summary>Somebody or something may be hurt, or the circuit does not work.</summary>
    Serious,
}

/// <summary>Where an alert stands.</summary>
public enum AlertStanding
{
    /// <summary>Its cause stands and nobody has seen to it.</summary>
    Raised,

    /// <summary>Its cause stands and a person has taken note.</summary>
    Acknowledged,

    /// <summary>Its cause has gone.</summary>
    Cleared,
}

/// <summary>Something that a rule found: what holds now, and why.</summary>
public sealed record Finding
{
    /// <summary>The rule, for instance <c>duct-left-open</c>.</summary>
    public required string Rule { get; init; }

    /// <summary>The thing it is about.</summary>
    public required ThingRef Subject { get; init; }

    /// <summary>What distinguishes this cause from others of the same rule on the same thing; empty where there can be one only.</summary>
    public required string Cause { get; init; }

    /// <summary>How much it matters.</summary>
    public required AlertSeverity Severity { get; init; }

    /// <summary>What is wrong, in plain words.</summary>
    public required string Reason { get; init; }

    /// <summary>What clears it, in plain words.</summary>
    public required string Remedy { get; init; }

    /// <summary>The circuits it touches.</summary>
    public required IReadOnlyList<string> CircuitIds { get; init; }

    /// <summary>The facts it rests on, as <c>source#id</c>.</summary>
    public required IReadOnlyList<string> Evidence { get; init; }

    /// <summary>
    /// Version of the models of the electrics by which it was found, no unit; none where it rests on the record alone. An alert
    /// keeps the version that last said something new of it.
    /// </summary>
    public int? ModelVersion { get; init; }
}

/// <summary>A thing by kind and id.</summary>
/// <param name="Kind">Its kind.</param>
/// <param name="Id">Its id.</param>
public sealed record ThingRef(ThingKind Kind, string Id);

/// <summary>An alert and its history.</summary>
public sealed record AlertView
{
    /// <summary>The alert: the same cause has the same id for ever.</summary>
    public required string Id { get; init; }

    /// <summary>The site.</summary>
    public required string SiteId { get; init; }

    /// <summary>What was found, as last known.</summary>
    public required Finding Finding { get; init; }

    /// <summary>Where it stands.</summary>
    public required AlertStanding Standing { get; init; }

    /// <summary>When it was last raised.</summary>
    public required DateTimeOffset RaisedAt { get; init; }

    /// <summary>How often it was raised.</summary>
    public required int TimesRaised { get; init; }

    /// <summary>When it was cleared, where it is.</summary>
    public DateTimeOffset? ClearedAt { get; init; }

    /// <summary>Who took note, where somebody did.</summary>
    public string? AcknowledgedBy { get; init; }

    /// <summary>When.</summary>
    public DateTimeOffset? AcknowledgedAt { get; init; }

    /// <summary>What they noted.</summary>
    public string? Note { get; init; }

    /// <summary>The planned visit that is to see to it, the soonest where there are several; absent in webhooks.</summary>
    public string? VisitId { get; init; }

    /// <summary>The day of that visit.</summary>
    public DateOnly? VisitDay { get; init; }
}

using FleetLight.Contracts.Facts;

namespace FleetLight.Contracts.Views;

/// <summary>Where a visit stands.</summary>
public enum VisitState
{
    /// <summary>It is to be made.</summary>
    Planned,

    /// <summary>It was made.</summary>
    Done,

    /// <summary>It was called off; it is kept.</summary>
    CalledOff,
}

/// <summary>What the office asks for who plans a visit.</summary>
public sealed record VisitRequest
{
    /// <summary>The day, on the calendar of the site.</summary>
    public required DateOnly Day { get; init; }

    /// <summary>The site to go to.</summary>
    [ThingId]
    public required string SiteId { get; init; }

    /// <summary>Who goes, by the name that people call the crew by.</summary>
    [Text(80)]
    public string? Crew { get; init; }

    /// <summary>The device of whoever goes, which is shown the visit; every device where absent.</summary>
    [Text(200)]
    public string? Source { get; init; }

    /// <summary>Ids of the alerts to see to.</summary>
    [List(0, 200)]
    [ThingId]
    public string[]? AlertIds { get; init; }

    /// <summary>What whoever goes has to know.</summary>
    [Text(2000)]
    public string? Note { get; init; }
}

/// <summary>What takes the place of a visit's plan, whole: what is absent is taken away.</summary>
public sealed record VisitChangeRequest
{
    /// <summary>The day, on the calendar of the site.</summary>
    public required DateOnly Day { get; init; }

    /// <summary>Who goes, by the name that people call the crew by.</summary>
    [Text(80)]
    public string? Crew { get; init; }

    /// <summary>The device of whoever goes, which is shown the visit; every device where absent.</summary>
    [Text(200)]
    public string? Source { get; init; }

    /// <summary>Ids of the alerts to see to.</summary>
    [List(0, 200)]
    [ThingId]
    public string[]? AlertIds { get; init; }

    /// <summary>What whoever goes has to know.</summary>
    [Text(2000)]
    public string? Note { get; init; }

    /// <summary>Version of the visit that this was made from, no unit; may stand in the header <c>If-Match</c> instead.</summary>
    [Quantity("1", 1, 1000000)]
    public int? Version { get; init; }
}

/// <summary>An alert of a visit, as it stands now.</summary>
public sealed record VisitAlert
{
    /// <summary>The alert.</summary>
    public required string Id { get; init; }

    /// <summary>Where it stands; absent where no such alert is known any more.</summary>
    public AlertStanding? Standing { get; init; }

    /// <summary>When it was cleared, where it is.</summary>
    public DateTimeOffset? ClearedAt { get; init; }

    /// <summary>What was found, as last known.</summary>
    public Finding? Finding { get; init; }
}

/// <summary>A visit: who goes where and when, and what for.</summary>
public sealed record VisitView
{
    /// <summary>The visit.</summary>
    public required string Id { get; init; }

    /// <summary>Counts up from 1 with every change, no unit.</summary>
    public required int Version { get; init; }

    /// <summary>Where it stands.</summary>
    public required VisitState State { get; init; }

    /// <summary>The day, on the calendar of the site.</summary>
    public required DateOnly Day { get; init; }

    /// <summary>The site.</summary>
    public required string SiteId { get; init; }

    /// <summary>Who goes.</summary>
    public string? Crew { get; init; }

    /// <summary>The device of whoever goes.</summary>
    public string? Source { get; init; }

    /// <summary>Ids of the alerts to see to.</summary>
    public required IReadOnlyList<string> AlertIds { get; init; }

    /// <summary>What whoever goes has to know.</summary>
    public string? Note { get; init; }

    /// <summary>Who planned it.</summary>
    public required string PlannedBy { get; init; }

    /// <summary>When.</summary>
    public required DateTimeOffset PlannedAt { get; init; }

    /// <summary>Who changed it last, where somebody did.</summary>
    public string? ChangedBy { get; init; }

    /// <summary>When.</summary>
    public DateTimeOffset? ChangedAt { get; init; }

    /// <summary>Who said that it was made or called off.</summary>
    public string? EndedBy { get; init; }

    /// <summary>When.</summary>
    public DateTimeOffset? EndedAt { get; init; }

    /// <summary>What was said of it then.</summary>
    public string? EndNote { get; init; }

    /// <summary>The alerts to see to as they stand now: one that cleared by itself shows so.</summary>
    public IReadOnlyList<VisitAlert>? Alerts { get; init; }

    /// <summary>What to take along; in the answer about one planned visit only.</summary>
    public TakeAlongView? TakeAlong { get; init; }
}

using System.Text.Json.Serialization;

namespace FleetLight.Record.Visits;

/// <summary>Something that happened to a visit.</summary>
[JsonPolymorphic(TypeDiscriminatorPropertyName = "visitEvent")]
[JsonDerivedType(typeof(VisitPlanned), "planned")]
[JsonDerivedType(typeof(VisitChanged), "changed")]
[JsonDerivedType(typeof(VisitDone), "done")]
[JsonDerivedType(typeof(VisitCalledOff), "called-off")]
public interface IVisitEvent
{
    /// <summary>The visit.</summary>
    string VisitId { get; }

    /// <summary>Who did it.</summary>
    string By { get; }

    /// <summary>When.</summary>
    DateTimeOffset At { get; }
}

/// <summary>Who goes when, and what for.</summary>
public sealed record VisitPlan
{
    /// <summary>The day, on the calendar of the site.</summary>
    public required DateOnly Day { get; init; }

    /// <summary>Who goes.</summary>
    public string? Crew { get; init; }

    /// <summary>The device of whoever goes.</summary>
    public string? Source { get; init; }

    /// <summary>Ids of the alerts to see to, each once.</summary>
    public required IReadOnlyList<string> AlertIds { get; init; }

    /// <summary>What whoever goes has to know.</summary>
    public string? Note { get; init; }

    /// <summary>Whether two plans say the same.</summary>
    public bool SaysTheSame(VisitPlan other) =>
        Day == other.Day && Crew == other.Crew && Source == other.Source && Note == other.Note && AlertIds.SequenceEqual(other.AlertIds);
}

/// <summary>A visit was planned.</summary>
public sealed record VisitPlanned : IVisitEvent
{
    /// <inheritdoc/>
    public required string VisitId { get; init; }

    /// <summary>The site.</summary>
    public required string SiteId { get; init; }

    /// <summary>The plan.</summary>
    public required VisitPlan Plan { get; init; }

    /// <inheritdoc/>
    public required string By { get; init; }

    /// <inheritdoc/>
    public required DateTimeOffset At { get; init; }
}

/// <summary>Another plan took the place of the one before.</summary>
public sealed record VisitChanged : IVisitEvent
{
    /// <inheritdoc/>
    public required string VisitId { get; init; }

    /// <summary>The plan from then on, whole.</summary>
    public required VisitPlan Plan { get; init; }

    /// <inheritdoc/>
    public required string By { get; init; }

    /// <inheritdoc/>
    public required DateTimeOffset At { get; init; }
}

/// <summary>The visit was made.</summary>
public sealed record VisitDone : IVisitEvent
{
    /// <inheritdoc/>
    public required string VisitId { get; init; }

    /// <summary>What was said of it.</summary>
    public string? Note { get; init; }

    /// <inheritdoc/>
    public required string By { get; init; }

    /// <inheritdoc/>
    public required DateTimeOffset At { get; init; }
}

/// <summary>The visit was called off.</summary>
public sealed record VisitCalledOff : IVisitEvent
{
    /// <inheritdoc/>
    public required string VisitId { get; init; }

    /// <inheritdoc/>
    public required string By { get; init; }

    /// <inheritdoc/>
    public required DateTimeOffset At { get; init; }
}

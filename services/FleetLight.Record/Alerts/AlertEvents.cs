using System.Text.Json.Serialization;
using FleetLight.Contracts.Views;

namespace FleetLight.Record.Alerts;

/// <summary>Something that happened to an alert.</summary>
[JsonPolymorphic(TypeDiscriminatorPropertyName = "alertEvent")]
[JsonDerivedType(typeof(AlertRaised), "raised")]
[JsonDerivedType(typeof(AlertUpdated), "updated")]
[JsonDerivedType(typeof(AlertAcknowledged), "acknowledged")]
[JsonDerivedType(typeof(AlertCleared), "cleared")]
public interface IAlertEvent
{
    /// <summary>The alert, by <see cref="AlertIds.Of"/>.</summary>
    string AlertId { get; }

    /// <summary>When it was known.</summary>
    DateTimeOffset At { get; }
}

/// <summary>A rule found something that it had not found before.</summary>
public sealed record AlertRaised : IAlertEvent
{
    /// <inheritdoc/>
    public required string AlertId { get; init; }

    /// <summary>The site.</summary>
    public required string SiteId { get; init; }

    /// <summary>What was found.</summary>
    public required Finding Finding { get; init; }

    /// <inheritdoc/>
    public required DateTimeOffset At { get; init; }
}

/// <summary>What was found is still there, and more or other is known of it.</summary>
public sealed record AlertUpdated : IAlertEvent
{
    /// <inheritdoc/>
    public required string AlertId { get; init; }

    /// <summary>The site.</summary>
    public required string SiteId { get; init; }

    /// <summary>What is found now.</summary>
    public required Finding Finding { get; init; }

    /// <inheritdoc/>
    public required DateTimeOffset At { get; init; }
}

/// <summary>A person took note.</summary>
public sealed record AlertAcknowledged : IAlertEvent
{
    /// <inheritdoc/>
    public required string AlertId { get; init; }

    /// <summary>Who.</summary>
    public required string By { get; init; }

    /// <summary>What they noted.</summary>
    public string? Note { get; init; }

    /// <inheritdoc/>
    public required DateTimeOffset At { get; init; }
}

/// <summary>The cause has gone.</summary>
public sealed record AlertCleared : IAlertEvent
{
    /// <inheritdoc/>
    public required string AlertId { get; init; }

    /// <summary>The site.</summary>
    public required string SiteId { get; init; }

    /// <summary>The facts whose arrival cleared it, as <c>source#id</c>, where known.</summary>
    public required IReadOnlyList<string> ClearedBy { get; init; }

    /// <inheritdoc/>
    public required DateTimeOffset At { get; init; }
}

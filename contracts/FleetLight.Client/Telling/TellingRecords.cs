using FleetLight.Contracts.Views;

namespace FleetLight.Client.Telling;

/// <summary>What of all that is told somebody wants to hear; what is absent leaves nothing out.</summary>
public sealed record TellFilter
{
    /// <summary>Facts, alerts, changes.</summary>
    public IReadOnlyList<ToldKind>? Tell { get; init; }

    /// <summary>Only facts of these types, each with its version.</summary>
    public IReadOnlyList<string>? Types { get; init; }

    /// <summary>Only what belongs to these sites.</summary>
    public IReadOnlyList<string>? Sites { get; init; }

    /// <summary>Only changes of these kinds of thing, of <c>alert</c>, <c>visit</c> or <c>attachment</c>.</summary>
    public IReadOnlyList<string>? Changed { get; init; }

    /// <summary>Only alerts of these rules.</summary>
    public IReadOnlyList<string>? Rules { get; init; }
}

/// <summary>What somebody asks for who wants to be told.</summary>
public sealed record SubscriptionRequest
{
    /// <summary>Where to tell: http or https.</summary>
    public required string Url { get; init; }

    /// <summary>What to tell; everything where absent.</summary>
    public TellFilter? Filter { get; init; }

    /// <summary>From where on: the cursor of something that was told, <c>start</c> for the beginning, <c>now</c> where absent.</summary>
    public string? After { get; init; }
}

/// <summary>A subscription.</summary>
public sealed record SubscriptionView
{
    /// <summary>Its id.</summary>
    public required string Id { get; init; }

    /// <summary>Where it is told.</summary>
    public required string Url { get; init; }

    /// <summary>What it is told.</summary>
    public required TellFilter Filter { get; init; }

    /// <summary>When it was made.</summary>
    public required DateTimeOffset CreatedAt { get; init; }

    /// <summary>Whether it belongs to the key that made it and ends with that; else to the organisation.</summary>
    public required bool OfKey { get; init; }

    /// <summary>Through where it was told.</summary>
    public required string Cursor { get; init; }

    /// <summary>How often the next thing was tried in vain: a count.</summary>
    public int Attempts { get; init; }

    /// <summary>When the next attempt is due, where the last one failed.</summary>
    public DateTimeOffset? NextAttemptAt { get; init; }

    /// <summary>What went wrong last, as long as it stands in the way.</summary>
    public string? LastError { get; init; }

    /// <summary>When something was taken last.</summary>
    public DateTimeOffset? ToldAt { get; init; }

    /// <summary>Whether it ended, with its key.</summary>
    public bool Ended { get; init; }

    /// <summary>What signs (Standard Webhooks); only in the answer that makes it. Keep it.</summary>
    public string? Secret { get; init; }
}

/// <summary>A new secret, shown once.</summary>
public sealed record NewSecret
{
    /// <summary>What signs from now on (Standard Webhooks); for a day, the one before signs too.</summary>
    public required string Secret { get; init; }
}

/// <summary>Something that could not be told and waits for a person.</summary>
public sealed record ParkedView
{
    /// <summary>The message, as in <c>webhook-id</c>.</summary>
    public required string Id { get; init; }

    /// <summary>Its place in what is told.</summary>
    public required string Cursor { get; init; }

    /// <summary>Type of the event.</summary>
    public required string Type { get; init; }

    /// <summary>Source of the event.</summary>
    public required string Source { get; init; }

    /// <summary>Id of the event within its source.</summary>
    public required string EventId { get; init; }

    /// <summary>What went wrong last.</summary>
    public required string Error { get; init; }

    /// <summary>When it was given up.</summary>
    public required DateTimeOffset ParkedAt { get; init; }

    /// <summary>Whether it is on its way again.</summary>
    public required bool Again { get; init; }
}

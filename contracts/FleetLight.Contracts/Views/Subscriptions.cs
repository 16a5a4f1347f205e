using FleetLight.Contracts.Facts;

namespace FleetLight.Contracts.Views;

/// <summary>What of all that is told somebody wants to hear.</summary>
public sealed record StreamFilter
{
    /// <summary>Most members of each list: a count.</summary>
    public const int MostMembers = 100;

    /// <summary>Facts, alerts, changes; all of them where absent.</summary>
    public ToldKind[]? Tell { get; init; }

    /// <summary>Only facts of these types, each with its version; all where absent.</summary>
    [List(1, MostMembers)]
    public string[]? Types { get; init; }

    /// <summary>Only what belongs to these sites: facts that name one, alerts and changes of its things; all where absent.</summary>
    [List(1, MostMembers)]
    public string[]? Sites { get; init; }

    /// <summary>Only changes of these kinds: those of things, <c>alert</c>, <c>visit</c>, <c>attachment</c>; all where absent.</summary>
    [List(1, MostMembers)]
    public string[]? Changed { get; init; }

    /// <summary>Only alerts of these rules; all where absent.</summary>
    [List(1, MostMembers)]
    public string[]? Rules { get; init; }
}

/// <summary>What somebody asks for who wants to be told.</summary>
public sealed record SubscriptionRequest
{
    /// <summary>Where to tell: http or https, at most 500 characters.</summary>
    [Text(500)]
    public required string Url { get; init; }

    /// <summary>What to tell; everything where absent.</summary>
    public StreamFilter? Filter { get; init; }

    /// <summary>From where on: the cursor of something that was told, <c>start</c> for the beginning, <c>now</c> where absent.</summary>
    [Text(60)]
    public string? After { get; init; }
}

/// <summary>From where a subscription is told on.</summary>
public sealed record MoveRequest
{
    /// <summary>The cursor of something that was told, <c>start</c> for the beginning, or <c>now</c>.</summary>
    [Text(60)]
    public required string After { get; init; }
}

/// <summary>A subscription as it is shown. What signs is shown once, when it is made.</summary>
public sealed record SubscriptionView
{
    /// <summary>The subscription.</summary>
    public required string Id { get; init; }

    /// <summary>Where it is told.</summary>
    public required string Url { get; init; }

    /// <summary>What it is told.</summary>
    public required StreamFilter Filter { get; init; }

    /// <summary>When it was made.</summary>
    public required DateTimeOffset CreatedAt { get; init; }

    /// <summary>Whether it belongs to the key that made it and ends with that; else to the organisation.</summary>
    public required bool OfKey { get; init; }

    /// <summary>Through where it was told.</summary>
    public required string Cursor { get; init; }

    /// <summary>How often the next thing was tried in vain.</summary>
    public int Attempts { get; init; }

    /// <summary>When the next attempt is due, where the last one failed.</summary>
    public DateTimeOffset? NextAttemptAt { get; init; }

    /// <summary>What went wrong last, as long as it stands in the way.</summary>
    public string? LastError { get; init; }

    /// <summary>When something was taken last.</summary>
    public DateTimeOffset? ToldAt { get; init; }

    /// <summary>Whether it ended, with its key.</summary>
    public bool Ended { get; init; }

    /// <summary>What signs (Standard Webhooks); only in the answer that makes it.</summary>
    public string? Secret { get; init; }
}

/// <summary>A new secret of somebody who is told.</summary>
/// <param name="Secret">The secret that signs from now on (Standard Webhooks); shown only here.</param>
/// <param name="BeforeUntil">Until when the one before signs too.</param>
public sealed record ReplacedSecret(string Secret, DateTimeOffset BeforeUntil);

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

using FleetLight.Contracts.Facts;

namespace FleetLight.Service.Subscriptions;

/// <summary>What somebody asks for who wants to be told.</summary>
/// <param name="Url">Where to tell: http or https, at most 500 characters.</param>
/// <param name="Filter">What to tell; everything where absent.</param>
/// <param name="After">From where on: the cursor of something that was told, <c>start</c> for the beginning, <c>now</c> where absent.</param>
public sealed record SubscriptionRequest([property: Text(500)] string Url, StreamFilter? Filter = null, [property: Text(60)] string? After = null);

/// <summary>From where a subscription is told on.</summary>
/// <param name="After">The cursor of something that was told, <c>start</c> for the beginning, or <c>now</c>.</param>
public sealed record MoveRequest([property: Text(60)] string After);

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

    /// <summary>Shows one.</summary>
    public static SubscriptionView Of(Subscription kept)
    {
        ArgumentNullException.ThrowIfNull(kept);
        return new SubscriptionView
        {
            Id = kept.Id,
            Url = kept.Url,
            Filter = kept.Filter,
            CreatedAt = kept.CreatedAt,
            OfKey = kept.Holder is not null,
            Cursor = kept.Place.ToString(),
            Attempts = kept.Attempts,
            NextAttemptAt = kept.Attempts > 0 && !kept.Ended ? kept.DueAt : null,
            LastError = kept.LastError,
            ToldAt = kept.ToldAt,
            Ended = kept.Ended,
        };
    }
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

    /// <summary>Shows one.</summary>
    public static ParkedView Of(ParkedMessage kept)
    {
        ArgumentNullException.ThrowIfNull(kept);
        return new ParkedView
        {
            Id = kept.Id,
            Cursor = kept.Place.ToString(),
            Type = kept.Type,
            Source = kept.Source,
            EventId = kept.EventId,
            Error = kept.Error,
            ParkedAt = kept.ParkedAt,
            Again = kept.Again,
        };
    }
}

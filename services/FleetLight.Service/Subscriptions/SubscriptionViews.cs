using FleetLight.Contracts.Views;

namespace FleetLight.Service.Subscriptions;

/// <summary>Shows what is kept.</summary>
internal static class SubscriptionViews
{
    /// <summary>Shows a subscription.</summary>
    public static SubscriptionView Of(Subscription kept) => new()
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

    /// <summary>Shows something that could not be told.</summary>
    public static ParkedView Of(ParkedMessage kept) => new()
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

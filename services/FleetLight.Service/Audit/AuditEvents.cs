using Marten.Events;

namespace FleetLight.Service.Audit;

/// <summary>What was administered.</summary>
public enum AdministrativeAct
{
    /// <summary>A key was made.</summary>
    KeyMade,

    /// <summary>A key was revoked.</summary>
    KeyRevoked,

    /// <summary>A key was replaced by its holder.</summary>
    KeyRotated,

    /// <summary>A one-time code was issued.</summary>
    EnrolmentMade,

    /// <summary>A one-time code was taken back.</summary>
    EnrolmentWithdrawn,

    /// <summary>A one-time code was exchanged for a key.</summary>
    EnrolmentUsed,

    /// <summary>A device was reported lost.</summary>
    DeviceLost,

    /// <summary>A device was assigned sites.</summary>
    SitesAssigned,

    /// <summary>An address is told of alerts from then on.</summary>
    WebhookMade,

    /// <summary>An address is told of alerts no longer.</summary>
    WebhookRemoved,

    /// <summary>A parked delivery was put on its way again.</summary>
    DeliveryRetried,

    /// <summary>It was set how circuits are judged.</summary>
    JudgingSet,

    /// <summary>A refused fact was handed in again, mended.</summary>
    FactResubmitted,

    /// <summary>A refused fact was dismissed.</summary>
    FactDismissed,

    /// <summary>What was set aside was to be taken in again.</summary>
    SetAsideTakenIn,

    /// <summary>An alert was noted.</summary>
    AlertAcknowledged,

    /// <summary>A visit was planned.</summary>
    VisitPlanned,

    /// <summary>A visit's plan was changed.</summary>
    VisitChanged,

    /// <summary>A visit was made.</summary>
    VisitDone,

    /// <summary>A visit was called off.</summary>
    VisitCalledOff,

    /// <summary>A webhook was given a new secret.</summary>
    WebhookSecretReplaced,

    /// <summary>Facts, alerts or changes are told to an address from then on.</summary>
    SubscriptionMade,

    /// <summary>They are told to it no longer.</summary>
    SubscriptionRemoved,

    /// <summary>They are told again, or further on, from another place.</summary>
    SubscriptionMoved,

    /// <summary>A subscription was given a new secret.</summary>
    SubscriptionSecretReplaced,

    /// <summary>What could not be told was put on its way again.</summary>
    ParkedRetried,

    /// <summary>What could not be told was thrown away.</summary>
    ParkedDropped,
}

/// <summary>What kind of actor administered.</summary>
public enum ActorKind
{
    /// <summary>The holder of a key.</summary>
    Key,

    /// <summary>A person with a token.</summary>
    Person,

    /// <summary>Whoever had a one-time code.</summary>
    Code,

    /// <summary>The service itself.</summary>
    Service,
}

/// <summary>Who administered.</summary>
/// <param name="Kind">What kind of actor.</param>
/// <param name="Id">Public part of the key, issuer and subject of the token, or id of the enrolment.</param>
/// <param name="Name">What people call it.</param>
public sealed record Actor(ActorKind Kind, string Id, string Name);

/// <summary>Something was administered. It never holds a secret.</summary>
public sealed record ActDone
{
    /// <summary>What was done.</summary>
    public required AdministrativeAct Act { get; init; }

    /// <summary>To what: the id of the key, enrolment, device, webhook, delivery, fact or alert.</summary>
    public string? Target { get; init; }

    /// <summary>Who did it.</summary>
    public required Actor By { get; init; }

    /// <summary>When.</summary>
    public required DateTimeOffset At { get; init; }

    /// <summary>Network address that it came from.</summary>
    public string? From { get; init; }

    /// <summary>What else says what was done, by name.</summary>
    public IReadOnlyDictionary<string, string>? Details { get; init; }
}

/// <summary>How acts stand in the store: one stream an organisation.</summary>
public static class AuditEvents
{
    /// <summary>What a device's source may not begin with: the stream here does.</summary>
    public const string Prefix = "audit:";

    /// <summary>The stream.</summary>
    public const string Stream = Prefix + "acts";

    /// <summary>Gives the event its stored name.</summary>
    public static void Map(IEventStoreOptions events) => events.MapEventType<ActDone>("fleetlight.audit.act-done.v1");
}

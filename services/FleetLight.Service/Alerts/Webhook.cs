using System.Text.Json.Serialization;
using FleetLight.Service.Secrets;

namespace FleetLight.Service.Alerts;

/// <summary>An address that wants to be told of alerts.</summary>
public sealed class Webhook
{
    /// <summary>The webhook.</summary>
    public required string Id { get; set; }

    /// <summary>Where to deliver.</summary>
    public required string Url { get; set; }

    /// <summary>
    /// The word that stands in <see cref="Secret"/> once the secret is sealed. A node of before needs the member, and finds it to be no
    /// secret: what it should tell then waits for a newer node.
    /// </summary>
    public const string IsSealed = "sealed";

    /// <summary>Where an earlier version kept the secret that signs; <see cref="IsSealed"/> since.</summary>
    public string Secret { get; set; } = IsSealed;

    /// <summary>Secret that signs the deliveries (Standard Webhooks), sealed. It signs, so it cannot be hashed.</summary>
    public string? Sealed { get; set; }

    /// <summary>The secret before it, sealed.</summary>
    public string? SealedBefore { get; set; }

    /// <summary>Until when the secret before it signs too.</summary>
    public DateTimeOffset? BeforeUntil { get; set; }

    /// <summary>All of them.</summary>
    [JsonIgnore]
    public SealedSecrets Secrets
    {
        get => new(Sealed, SealedBefore, BeforeUntil);
        set
        {
            ArgumentNullException.ThrowIfNull(value);
            (Sealed, SealedBefore, BeforeUntil) = (value.Sealed, value.Before, value.BeforeUntil);
        }
    }

    /// <summary>Whether its secret stands there readable: a node of an earlier version made it.</summary>
    [JsonIgnore]
    public bool IsReadable => Sealed is null && Secret != IsSealed;

    /// <summary>Seals what an earlier version left readable, and seals anew what another master secret sealed.</summary>
    /// <returns>Whether that changed anything.</returns>
    public bool SealAgain(SecretSeal seal, string organisation)
    {
        ArgumentNullException.ThrowIfNull(seal);
        if (IsReadable)
        {
            (Sealed, Secret) = (seal.Seal(Secret, organisation, Id), IsSealed);
            return true;
        }

        if (Secrets.Again(seal, organisation, Id) is not { } again) return false;
        Secrets = again;
        return true;
    }

    /// <summary>Rules to tell of; every rule where absent.</summary>
    public string[]? Rules { get; set; }

    /// <summary>When it was made.</summary>
    public required DateTimeOffset CreatedAt { get; set; }
}

/// <summary>What became of a delivery.</summary>
public enum DeliveryState
{
    /// <summary>It waits to be delivered.</summary>
    Waiting,

    /// <summary>It was taken.</summary>
    Delivered,

    /// <summary>It could not be delivered and waits for a person.</summary>
    Parked,
}

/// <summary>One message to one webhook about one alert event. Its id follows from both, so it is made once.</summary>
public sealed class Delivery
{
    /// <summary>The delivery; sent as <c>webhook-id</c>, the same on every attempt.</summary>
    public required string Id { get; set; }

    /// <summary>The webhook.</summary>
    public required string WebhookId { get; set; }

    /// <summary>What happened: <c>alert.raised</c> or <c>alert.cleared</c>.</summary>
    public required string Type { get; set; }

    /// <summary>The alert; absent on deliveries of before it was kept.</summary>
    public string? AlertId { get; set; }

    /// <summary>The facts that raised or cleared it, as <c>source#id</c>, where known.</summary>
    public string[]? FactIds { get; set; }

    /// <summary>The trace in which it was queued (W3C Trace Context), where that was traced.</summary>
    public string? Trace { get; set; }

    /// <summary>The body to send.</summary>
    public required string Body { get; set; }

    /// <summary>What became of it.</summary>
    public required DeliveryState State { get; set; }

    /// <summary>When it is next due.</summary>
    public required DateTimeOffset DueAt { get; set; }

    /// <summary>How often it was tried in full.</summary>
    public int Attempts { get; set; }

    /// <summary>What went wrong last.</summary>
    public string? LastError { get; set; }

    /// <summary>When it was made.</summary>
    public required DateTimeOffset CreatedAt { get; set; }

    /// <summary>When it was taken.</summary>
    public DateTimeOffset? DeliveredAt { get; set; }
}

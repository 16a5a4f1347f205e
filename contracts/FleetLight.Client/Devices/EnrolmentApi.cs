using System.Text.Json;
using FleetLight.Client.Sending;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;

namespace FleetLight.Client.Devices;

/// <summary>What a device gets for its one-time code. The key is shown here and never again.</summary>
public sealed record EnrolledKey
{
    /// <summary>The key.</summary>
    public required string Key { get; init; }

    /// <summary>The key's public part.</summary>
    public required string KeyId { get; init; }

    /// <summary>The device that the key speaks for: the <c>source</c> of its facts.</summary>
    public string? Source { get; init; }

    /// <summary>The organisation.</summary>
    public string? Organisation { get; init; }

    /// <summary>What the holder is, for instance <c>device</c>.</summary>
    public string? Role { get; init; }

    /// <summary>What the key allows.</summary>
    public IReadOnlyList<string>? Scopes { get; init; }

    /// <summary>Says everything but the key, so that no log ever holds it.</summary>
    public override string ToString() => $"key {KeyId} of {Source ?? Organisation}";
}

/// <summary>A key in place of another.</summary>
public sealed record RotatedKey
{
    /// <summary>The new key.</summary>
    public required string Key { get; init; }

    /// <summary>The new key's public part.</summary>
    public required string KeyId { get; init; }

    /// <summary>Until when the old one is taken, at the latest; it ends when the new one is first used.</summary>
    public DateTimeOffset? OldValidUntil { get; init; }

    /// <summary>Says everything but the key, so that no log ever holds it.</summary>
    public override string ToString() => $"key {KeyId}";
}

/// <summary>Whom a key speaks for, and what it allows.</summary>
public sealed record KeyHolder
{
    /// <summary>The organisation.</summary>
    public string? Organisation { get; init; }

    /// <summary>The device.</summary>
    public string? Source { get; init; }

    /// <summary>What the holder is.</summary>
    public string? Role { get; init; }

    /// <summary>What the key allows.</summary>
    public IReadOnlyList<string>? Scopes { get; init; }

    /// <summary>The sites that the device is assigned.</summary>
    public IReadOnlyList<string>? Sites { get; init; }
}

/// <summary>How a device comes by its key.</summary>
public sealed class EnrolmentApi
{
    private readonly Transport transport;

    internal EnrolmentApi(Transport transport) => this.transport = transport;

    /// <summary>
    /// Gives a one-time code for a key. It needs none and works once: where the answer is lost, the office has to issue a new
    /// code, so it is tried again only where the service cannot have handled it.
    /// </summary>
    /// <param name="code">The code as the office shows it; hyphens, blanks and the case of letters do not matter.</param>
    /// <param name="device">What the device calls itself.</param>
    /// <param name="cancel">Ends it.</param>
    /// <exception cref="ProblemException">The code is wrong, used or out of date.</exception>
    /// <exception cref="FleetLightException">No key came.</exception>
    public Task<EnrolledKey> ExchangeAsync(string code, string? device = null, CancellationToken cancel = default)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(code);
        return transport.ReadAsync<EnrolledKey>(
            new Call(HttpMethod.Post, "v1/enrolments/exchange")
            {
                Body = JsonSerializer.SerializeToUtf8Bytes(new { code = code.Trim(), device }, WireJson.Lenient),
                WithKey = false,
                Repeatable = false,
            }, cancel);
    }

    /// <summary>Gets another key for the same device. Keep the new one before using it: that ends the old one.</summary>
    /// <exception cref="FleetLightException">No key came; the old one is still taken.</exception>
    public Task<RotatedKey> RotateAsync(CancellationToken cancel = default) =>
        transport.ReadAsync<RotatedKey>(new Call(HttpMethod.Post, "v1/keys/self/rotate") { Body = "{}"u8.ToArray() }, cancel);

    /// <summary>Whom the key speaks for, and what it allows.</summary>
    /// <exception cref="FleetLightException">No answer came.</exception>
    public Task<KeyHolder> HolderAsync(CancellationToken cancel = default) => transport.ReadAsync<KeyHolder>(Call.Get("v1/keys/self"), cancel);

    /// <summary>The sites that the device is assigned.</summary>
    /// <exception cref="FleetLightException">No answer came.</exception>
    public Task<AssignedSites> SitesAsync(CancellationToken cancel = default) =>
        transport.ReadAsync<AssignedSites>(Call.Get("v1/devices/self/sites"), cancel);
}

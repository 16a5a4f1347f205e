using FleetLight.Client;

namespace FleetLight.FieldAgent.Identity;

/// <summary>Clients that speak for the device.</summary>
internal static class Clients
{
    /// <summary>A client whose key is always the newest one.</summary>
    public static FleetLightClient For(FieldOptions options, IdentityFile identities, DeviceIdentity identity, TimeProvider clock) => new(
        new ClientOptions
        {
            Address = identity.Address,
            Key = () => identities.Find()?.Key,
            TryTimeout = options.TryTimeout,
            // Few: the batch is made smaller between calls, not within one.
            MostRetries = 1,
            LongestPause = options.LongestPause < TimeSpan.FromSeconds(30) ? options.LongestPause : TimeSpan.FromSeconds(30),
            StopFor = options.LongestPause < TimeSpan.FromSeconds(15) ? Longer(options.LongestPause, TimeSpan.FromSeconds(0.5)) : TimeSpan.FromSeconds(15),
        }, clock: clock);

    /// <summary>Gets another key and keeps it; it is used from the next request on, which ends the old one.</summary>
    /// <exception cref="FleetLightException">No key came; the old one is still taken.</exception>
    public static async Task<DeviceIdentity> RenewAsync(
        FleetLightClient client, IdentityFile identities, DeviceIdentity identity, TimeProvider clock, CancellationToken cancel)
    {
        var given = await client.Enrolment.RotateAsync(cancel);
        var renewed = identity with { Key = given.Key, KeyId = given.KeyId, KeyGivenAt = clock.GetUtcNow() };
        identities.Write(renewed);
        return renewed;
    }

    private static TimeSpan Longer(TimeSpan one, TimeSpan other) => one > other ? one : other;
}

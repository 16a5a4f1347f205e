using System.Net;
using FleetLight.Client;
using FleetLight.FieldAgent.Faults;
using FleetLight.FieldAgent.Outbox;
using FleetLight.FieldAgent.Sending;

namespace FleetLight.FieldAgent.Identity;

/// <summary>What became of an enrolment.</summary>
/// <param name="Identity">Who the device is now; none where it failed.</param>
/// <param name="Failure">Why it failed.</param>
internal sealed record EnrolResult(DeviceIdentity? Identity, string? Failure = null);

/// <summary>Gives the office's one-time code for a key.</summary>
internal sealed class Enrolling(FieldOptions options, IdentityFile file, OutboxFile outbox, Outgoing outgoing, TimeProvider clock, IFaultPoints faults)
{
    private const string SourceSetting = "source";

    /// <summary>Takes <c>CODE</c> with an address beside it, or what the office's picture holds: <c>ADDRESS/enrol#CODE</c>.</summary>
    public static (Uri? Address, string Code)? Read(string text, string? address)
    {
        var at = text.IndexOf('#', StringComparison.Ordinal);
        var code = (at < 0 ? text : text[(at + 1)..]).Trim();
        var where = address;
        if (at > 0)
        {
            where ??= text[..at];
            if (where.EndsWith("/enrol", StringComparison.Ordinal)) where = where[..^"enrol".Length];
        }

        if (where is null) return code.Length == 0 ? null : (null, code);
        if (!where.EndsWith('/')) where += "/";
        return code.Length > 0 && Uri.TryCreate(where, UriKind.Absolute, out var uri) && uri.Scheme is "http" or "https" ? (uri, code) : null;
    }

    /// <summary>
    /// Whether that address may be used without being asked for in so many words: what travels in plain over a network can be read on the
    /// way, and the code and the key with it. Within this machine nobody listens.
    /// </summary>
    public static bool IsGuarded(Uri address) =>
        address.Scheme == Uri.UriSchemeHttps || address.Host == "localhost" || (IPAddress.TryParse(address.DnsSafeHost, out var ip) && IPAddress.IsLoopback(ip));

    /// <summary>Enrols.</summary>
    public async Task<EnrolResult> RunAsync(Uri address, string code, string? name, CancellationToken cancel)
    {
        using var client = new FleetLightClient(new ClientOptions { Address = address, TryTimeout = options.TryTimeout, MostRetries = 2 }, clock: clock);
        Client.Devices.EnrolledKey given;
        try
        {
            given = await client.Enrolment.ExchangeAsync(code, name, cancel);
        }
        catch (FleetLightException failed)
        {
            return new EnrolResult(null, failed.Message);
        }

        faults.Reach("enrol.answered");
        if (given.Source is not { } source) return new EnrolResult(null, "The code is not for a device: its key speaks for no source. Ask the office for a device's code.");
        return await KeepAsync(address, given, source, cancel);
    }

    private async Task<EnrolResult> KeepAsync(Uri address, Client.Devices.EnrolledKey given, string source, CancellationToken cancel)
    {
        var identity = new DeviceIdentity
        {
            Address = address,
            Key = given.Key,
            KeyId = given.KeyId,
            Source = source,
            Organisation = given.Organisation,
            KeyGivenAt = clock.GetUtcNow(),
        };
        if (outbox.Read(statements => statements.Get(SourceSetting)) is { } owner && owner != source)
        {
            // The code is used up, so its key must not be lost with it.
            new IdentityFile(Path.Combine(options.Folder, "other-device"), faults).Write(identity);
            return new EnrolResult(null,
                $"This folder belongs to {owner}, the code was for {source}. Its key is kept in {Path.Combine(options.Folder, "other-device")}: "
                + "run the agent with --folder on a folder of its own and move it there.");
        }

        // The key first: it is shown once. What follows can be done again.
        file.Write(identity);
        outbox.Write("enrol", statements => statements.Set(SourceSetting, source));
        using var client = new FleetLightClient(
            new ClientOptions { Address = address, Key = () => identity.Key, TryTimeout = options.TryTimeout, MostRetries = 2 }, clock: clock);
        try
        {
            outgoing.TakeIn(await client.Device.ReceiptAsync(cancel));
        }
        catch (FleetLightException)
        {
            // The sender asks again before it sends the first fact.
        }

        return new EnrolResult(identity);
    }
}

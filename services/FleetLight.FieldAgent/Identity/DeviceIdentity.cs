using System.Text.Json;
using FleetLight.Contracts.Wire;
using FleetLight.FieldAgent.Faults;
using FleetLight.FieldAgent.Outbox;

namespace FleetLight.FieldAgent.Identity;

/// <summary>Who the device is, where the service is, and the key. Kept apart from the outbox, so that this can be shown to others.</summary>
internal sealed record DeviceIdentity
{
    /// <summary>Address of the service.</summary>
    public required Uri Address { get; init; }

    /// <summary>The key.</summary>
    public required string Key { get; init; }

    /// <summary>The key's public part.</summary>
    public required string KeyId { get; init; }

    /// <summary>The device: the source of its facts.</summary>
    public required string Source { get; init; }

    /// <summary>The organisation.</summary>
    public string? Organisation { get; init; }

    /// <summary>When the key was given.</summary>
    public required DateTimeOffset KeyGivenAt { get; init; }

    /// <summary>Says everything but the key, so that no log ever holds it.</summary>
    public override string ToString() => $"{Source} at {Address}, key {KeyId}";
}

/// <summary>The file with the identity, readable by its user only.</summary>
internal sealed class IdentityFile(string folder, IFaultPoints faults)
{
    /// <summary>Name of the file in the agent's folder.</summary>
    public const string Name = "identity.json";

    private readonly Lock use = new();
    private (DateTime At, DeviceIdentity Identity)? read;

    /// <summary>Where it is.</summary>
    public string Path { get; } = System.IO.Path.Combine(folder, Name);

    /// <summary>The identity as it is now, also where another process has changed it; none where the device is not enrolled.</summary>
    /// <exception cref="InvalidDataException">The file cannot be read.</exception>
    public DeviceIdentity? Find()
    {
        lock (use)
        {
            if (!File.Exists(Path)) return null;
            var at = File.GetLastWriteTimeUtc(Path);
            if (read is { } known && known.At == at) return known.Identity;
            try
            {
                var identity = JsonSerializer.Deserialize<DeviceIdentity>(File.ReadAllBytes(Path), WireJson.Lenient)
                    ?? throw new InvalidDataException($"{Path} is empty. Enrol the device again; its facts are kept.");
                read = (at, identity);
                return identity;
            }
            catch (JsonException)
            {
                throw new InvalidDataException($"{Path} cannot be read. Move it away and enrol the device again; its facts are kept.");
            }
        }
    }

    /// <summary>Writes it.</summary>
    public void Write(DeviceIdentity identity)
    {
        lock (use)
        {
            PrivateFiles.MakeFolder(folder);
            PrivateFiles.Replace(Path, JsonSerializer.SerializeToUtf8Bytes(identity, WireJson.Lenient), place => faults.Reach($"identity.{place}"));
            read = null;
        }
    }
}

using System.Security.Cryptography;
using System.Text;
using FleetLight.FieldAgent.Outbox;

namespace FleetLight.FieldAgent.Local;

/// <summary>What programs on this machine show the agent: a random text in a file that only the agent's user can read.</summary>
internal static class LocalToken
{
    /// <summary>Name of the file with the token.</summary>
    public const string FileName = "local-token";

    /// <summary>Name of the file with the address.</summary>
    public const string AddressFileName = "local-address";

    private const int Bytes = 32;

    /// <summary>The token of a folder; a new one where there is none.</summary>
    public static string Of(string folder)
    {
        var path = Path.Combine(folder, FileName);
        if (File.Exists(path) && File.ReadAllText(path).Trim() is { Length: Bytes * 2 } known) return known;
        var token = RandomNumberGenerator.GetHexString(Bytes * 2, lowercase: true);
        PrivateFiles.Replace(path, Encoding.ASCII.GetBytes(token + "\n"), _ => { });
        return token;
    }

    /// <summary>Whether a header carries the token. Takes as long for a nearly right one as for a wrong one.</summary>
    public static bool Shows(string? header, string token) =>
        header is not null && header.StartsWith("Bearer ", StringComparison.Ordinal)
        && CryptographicOperations.FixedTimeEquals(SHA256.HashData(Encoding.UTF8.GetBytes(header[7..])), SHA256.HashData(Encoding.UTF8.GetBytes(token)));
}

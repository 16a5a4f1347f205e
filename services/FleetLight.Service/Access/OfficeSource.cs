using System.Security.Cryptography;
using System.Text;

namespace FleetLight.Service.Access;

/// <summary>
/// The source under which somebody of the office records facts, such as a design: each key and each person has one of their own, so
/// that running numbers never meet and every fact says who recorded it.
/// </summary>
public static class OfficeSource
{
    private const string Prefix = "urn:fleetlight:office:";

    /// <summary>That of a key, by its public part.</summary>
    public static string OfKey(string keyId) => $"{Prefix}key:{keyId}";

    /// <summary>That of a person who signs in: a digest, so that a source holds no name and no address.</summary>
    public static string OfPerson(string issuer, string subject) =>
        $"{Prefix}person:{Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes($"{issuer}\n{subject}")))[..32]}";
}

using System.Security.Cryptography;

namespace FleetLight.Field.Sites;

/// <summary>Ids of things that are recorded first on this phone. They mean nothing and no two phones ever mint the same.</summary>
public static class NewId
{
    // Letters and digits that are not taken for one another: 16 of these 31 hold 79 bits.
    private const string Letters = "abcdefghjkmnpqrstuvwxyz23456789";
    private const int Length = 16;

    /// <summary>A new id.</summary>
    /// <param name="kind">A letter or two that it begins with, so that a person who reads one sees what kind of thing it is of.</param>
    public static string Of(string kind) => $"{kind}-{RandomNumberGenerator.GetString(Letters, Length)}";
}

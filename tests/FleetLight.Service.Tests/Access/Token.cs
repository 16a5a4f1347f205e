using System.Security.Cryptography;
using FleetLight.Testing.People;
using Microsoft.IdentityModel.JsonWebTokens;
using Microsoft.IdentityModel.Tokens;

namespace FleetLight.Service.Tests.Access;

/// <summary>Keys that sign tokens, and their public parts at a provider.</summary>
internal static class SigningKeys
{
    public static RsaSecurityKey Rsa(string id) => new(RSA.Create(2048)) { KeyId = id };

    public static ECDsaSecurityKey EllipticCurve(string id) => new(ECDsa.Create(ECCurve.NamedCurves.nistP256)) { KeyId = id };

    /// <summary>Has the provider serve these keys from now on.</summary>
    public static void Serve(this LocalProvider provider, params SecurityKey[] keys) =>
        provider.Serve([.. keys.Select(key => (key.KeyId, key is RsaSecurityKey rsa ? rsa.Rsa : (AsymmetricAlgorithm)((ECDsaSecurityKey)key).ECDsa))]);
}

/// <summary>A token, member by member, so that a test can spoil any of them.</summary>
internal sealed record Token
{
    public required string Issuer { get; init; }

    public object Audience { get; init; } = "fleetlight";

    public required DateTimeOffset Now { get; init; }

    public TimeSpan Begins { get; init; } = TimeSpan.FromMinutes(-1);

    public TimeSpan? Ends { get; init; } = TimeSpan.FromMinutes(10);

    public string? Subject { get; init; } = "u-17";

    public string? Id { get; init; }

    public string? Organisation { get; init; }

    public object? Roles { get; init; } = (string[])["lighting-office"];

    /// <summary>Signs it as that algorithm asks.</summary>
    public string Signed(SecurityKey key, string algorithm)
    {
        Dictionary<string, object> claims = new()
        {
            ["iss"] = Issuer,
            ["aud"] = Audience,
            ["nbf"] = (Now + Begins).ToUnixTimeSeconds(),
            ["name"] = "Ida at the desk",
        };
        if (Ends is { } ends) claims["exp"] = (Now + ends).ToUnixTimeSeconds();
        if (Subject is not null) claims["sub"] = Subject;
        if (Id is not null) claims["jti"] = Id;
        if (Organisation is not null) claims["org"] = Organisation;
        if (Roles is not null) claims["realm"] = new Dictionary<string, object> { ["roles"] = Roles };
        return new JsonWebTokenHandler { SetDefaultTimesOnTokenCreation = false }.CreateToken(
            System.Text.Json.JsonSerializer.Serialize(claims), new SigningCredentials(key, algorithm));
    }

    /// <summary>Without a signature, and saying so.</summary>
    public string Unsigned(string word = "none")
    {
        string payload = Signed(SigningKeys.Rsa("x"), SecurityAlgorithms.RsaSha256).Split('.')[1];
        return $"{Base64UrlEncoder.Encode($$"""{"alg":"{{word}}","typ":"JWT"}""")}.{payload}.";
    }
}

using System.Net;
using System.Security.Cryptography;
using System.Text;
using Microsoft.IdentityModel.JsonWebTokens;
using Microsoft.IdentityModel.Tokens;

namespace FleetLight.Service.Tests.Access;

/// <summary>A provider on this machine: it serves its discovery document and its public keys, and signs what a test asks for.</summary>
internal sealed class LocalIssuer : IAsyncDisposable
{
    private readonly HttpListener listener = new();
    private readonly Task serving;
    private List<SecurityKey> served = [];

    public LocalIssuer()
    {
        int port = Hosting.FreePort.Find();
        Address = $"http://127.0.0.1:{port}/people";
        listener.Prefixes.Add($"http://127.0.0.1:{port}/");
        listener.Start();
        serving = ServeAsync();
    }

    /// <summary>Its address, which is its name.</summary>
    public string Address { get; }

    /// <summary>How often its keys were asked for.</summary>
    public int KeysAsked { get; private set; }

    /// <summary>Whether it answers at all.</summary>
    public bool Answers { get; set; } = true;

    /// <summary>Serves these keys from now on.</summary>
    public void Serve(params SecurityKey[] keys) => served = [.. keys];

    public static RsaSecurityKey Rsa(string id) => new(RSA.Create(2048)) { KeyId = id };

    public static ECDsaSecurityKey EllipticCurve(string id) => new(ECDsa.Create(ECCurve.NamedCurves.nistP256)) { KeyId = id };

    public async ValueTask DisposeAsync()
    {
        listener.Close();
        await serving;
    }

    private async Task ServeAsync()
    {
        while (true)
        {
            HttpListenerContext context;
            try
            {
                context = await listener.GetContextAsync();
            }
            catch (Exception closed) when (closed is HttpListenerException or ObjectDisposedException)
            {
                return;
            }

            if (!Answers) context.Response.StatusCode = 500;
            else if (context.Request.Url!.AbsolutePath.EndsWith("/keys", StringComparison.Ordinal)) Write(context, Keys());
            else Write(context, $$"""{"issuer":"{{Address}}","jwks_uri":"{{Address}}/keys"}""");
            context.Response.Close();
        }
    }

    private string Keys()
    {
        KeysAsked++;
        return $$"""{"keys":[{{string.Join(',', served.Select(Public))}}]}""";
    }

    private static string Public(SecurityKey key)
    {
        if (key is RsaSecurityKey rsa)
        {
            RSAParameters parts = rsa.Rsa.ExportParameters(false);
            return $$"""{"kty":"RSA","use":"sig","kid":"{{key.KeyId}}","n":"{{Base64UrlEncoder.Encode(parts.Modulus)}}","e":"{{Base64UrlEncoder.Encode(parts.Exponent)}}"}""";
        }

        ECParameters curve = ((ECDsaSecurityKey)key).ECDsa.ExportParameters(false);
        return $$"""{"kty":"EC","use":"sig","kid":"{{key.KeyId}}","crv":"P-256","x":"{{Base64UrlEncoder.Encode(curve.Q.X)}}","y":"{{Base64UrlEncoder.Encode(curve.Q.Y)}}"}""";
    }

    private static void Write(HttpListenerContext context, string json)
    {
        context.Response.ContentType = "application/json";
        context.Response.OutputStream.Write(Encoding.UTF8.GetBytes(json));
    }
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
        string payload = Signed(LocalIssuer.Rsa("x"), SecurityAlgorithms.RsaSha256).Split('.')[1];
        return $"{Base64UrlEncoder.Encode($$"""{"alg":"{{word}}","typ":"JWT"}""")}.{payload}.";
    }
}

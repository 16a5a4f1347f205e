using System.Net;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Web;
using FleetLight.Testing.People;
using Microsoft.IdentityModel.JsonWebTokens;
using Microsoft.IdentityModel.Tokens;

namespace FleetLight.Pages.Tests.Office.People;

/// <summary>
/// A small OpenID Connect provider on this machine: authorization code with PKCE for one public client, and tokens that can be renewed.
/// It knows one person, who is always at home.
/// </summary>
internal sealed class PeopleProvider : LocalProvider
{
    public const string Client = "office-page";

    private readonly RsaSecurityKey key = new(RSA.Create(2048)) { KeyId = "p1" };
    private readonly Dictionary<string, (string Challenge, string Nonce, string Back)> codes = [];

    public PeopleProvider() => Serve((key.KeyId, key.Rsa));

    /// <summary>The organisation that its tokens name.</summary>
    public string Organisation { get; set; } = "";

    /// <summary>Whether it sends the person back without a code.</summary>
    public bool Refuses { get; set; }

    /// <summary>Seconds that it says its tokens last.</summary>
    public int Lasts { get; set; } = 300;

    /// <summary>What was wrong with a request for a token; none where none was.</summary>
    public string? Wrong { get; private set; }

    /// <summary>How many tokens it gave.</summary>
    public int Given { get; private set; }

    protected override Dictionary<string, string> Discovery =>
        new(base.Discovery) { ["authorization_endpoint"] = $"{Address}/authorize", ["token_endpoint"] = $"{Address}/token" };

    protected override async Task<bool> AnswerAsync(HttpListenerContext context)
    {
        switch (context.Request.Url!.AbsolutePath)
        {
            case "/people/authorize":
                Authorize(context);
                return true;
            case "/people/token":
                await GiveAsync(context);
                return true;
            default:
                return false;
        }
    }

    private void Authorize(HttpListenerContext context)
    {
        var asked = context.Request.QueryString;
        var back = asked["redirect_uri"]!;
        var isSound = asked["response_type"] == "code" && asked["client_id"] == Client && asked["code_challenge_method"] == "S256"
            && back.EndsWith("/office/signed-in", StringComparison.Ordinal);
        var code = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(8));
        codes[code] = (asked["code_challenge"] ?? "", asked["nonce"] ?? "", back);
        context.Response.Redirect(
            $"{back}?state={Uri.EscapeDataString(asked["state"] ?? "")}&iss={Uri.EscapeDataString(Address)}&"
            + (Refuses ? "error=access_denied" : isSound ? $"code={code}" : "error=invalid_request"));
    }

    private async Task GiveAsync(HttpListenerContext context)
    {
        using StreamReader body = new(context.Request.InputStream);
        var asked = HttpUtility.ParseQueryString(await body.ReadToEndAsync());
        var nonce = "";
        if (asked["client_id"] != Client) Wrong = "client";
        else if (asked["grant_type"] == "refresh_token") Wrong = asked["refresh_token"] == "again" ? null : "refresh token";
        else if (!codes.Remove(asked["code"] ?? "", out var known)) Wrong = "code";
        else if (known.Back != asked["redirect_uri"]) Wrong = "address";
        else if (Base64UrlEncoder.Encode(SHA256.HashData(Encoding.ASCII.GetBytes(asked["code_verifier"] ?? ""))) != known.Challenge) Wrong = "verifier";
        else nonce = known.Nonce;
        if (Wrong is not null)
        {
            context.Response.StatusCode = 400;
            Write(context, new { error = "invalid_grant" });
            return;
        }

        Given++;
        Write(context, new
        {
            access_token = Signed("fleetlight", null),
            id_token = nonce.Length > 0 ? Signed(Client, nonce) : null,
            refresh_token = "again",
            expires_in = Lasts,
            token_type = "Bearer",
        });
    }

    private string Signed(string audience, string? nonce)
    {
        var now = DateTimeOffset.UtcNow;
        Dictionary<string, object> claims = new()
        {
            ["iss"] = Address,
            ["aud"] = audience,
            ["sub"] = "u-1",
            ["name"] = "Ida at the desk",
            ["organisation"] = Organisation,
            ["roles"] = (string[])["office"],
            ["nbf"] = now.AddMinutes(-1).ToUnixTimeSeconds(),
            ["exp"] = now.AddMinutes(10).ToUnixTimeSeconds(),
            ["jti"] = $"t-{Given}",
        };
        if (nonce is not null) claims["nonce"] = nonce;
        return new JsonWebTokenHandler { SetDefaultTimesOnTokenCreation = false }.CreateToken(
            JsonSerializer.Serialize(claims), new SigningCredentials(key, SecurityAlgorithms.RsaSha256));
    }
}

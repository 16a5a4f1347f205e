using System.Text.Json;
using Microsoft.IdentityModel.JsonWebTokens;
using Microsoft.IdentityModel.Protocols;
using Microsoft.IdentityModel.Protocols.OpenIdConnect;
using Microsoft.IdentityModel.Tokens;

namespace FleetLight.Service.Access.People;

/// <summary>One provider: checks its tokens and says whom they speak for.</summary>
public sealed class Issuer
{
    /// <summary>How far its clock and ours may differ.</summary>
    public static readonly TimeSpan ClockSkew = TimeSpan.FromMinutes(1);

    /// <summary>How often its keys are asked for anew, so that a key that it withdrew is taken no longer than that.</summary>
    public static readonly TimeSpan Refresh = TimeSpan.FromHours(1);

    // Signatures with a private key only: "none" is no signature, and with HMAC the public key would be the secret.
    private static readonly string[] Algorithms =
    [
        SecurityAlgorithms.RsaSha256, SecurityAlgorithms.RsaSha384, SecurityAlgorithms.RsaSha512,
        SecurityAlgorithms.RsaSsaPssSha256, SecurityAlgorithms.RsaSsaPssSha384, SecurityAlgorithms.RsaSsaPssSha512,
        SecurityAlgorithms.EcdsaSha256, SecurityAlgorithms.EcdsaSha384, SecurityAlgorithms.EcdsaSha512,
    ];

    private readonly IssuerOptions options;
    private readonly Func<string, bool> isRefused;
    private readonly JsonWebTokenHandler handler = new();
    private readonly TokenValidationParameters asks;

    /// <summary>The provider of these settings.</summary>
    /// <param name="options">The settings.</param>
    /// <param name="isRefused">Whether a person or a token of it is refused.</param>
    /// <param name="http">Asks for its keys.</param>
    /// <param name="clock">The clock.</param>
    public Issuer(IssuerOptions options, Func<string, bool> isRefused, HttpClient http, TimeProvider clock)
    {
        (this.options, this.isRefused) = (options, isRefused);
        asks = new TokenValidationParameters
        {
            ValidIssuer = Name,
            ValidAudience = options.Audience,
            ValidAlgorithms = Algorithms,
            RequireSignedTokens = true,
            RequireExpirationTime = true,
            LifetimeValidator = (from, until, _, _) =>
                until is { } end && clock.GetUtcNow() < end + ClockSkew && (from is not { } begin || clock.GetUtcNow() >= begin - ClockSkew),
            ValidateWithLKG = false,
            ConfigurationManager = new ConfigurationManager<OpenIdConnectConfiguration>(
                $"{options.Authority.TrimEnd('/')}/.well-known/openid-configuration", new OpenIdConnectConfigurationRetriever(),
                new HttpDocumentRetriever(http) { RequireHttps = !options.AllowHttp })
            {
                RefreshInterval = TimeSpan.FromSeconds(options.AskAgainSeconds),
                AutomaticRefreshInterval = Refresh,
                UseLastKnownGoodConfiguration = false,
            },
        };
    }

    /// <summary>How it calls itself in its tokens.</summary>
    public string Name => options.Issuer ?? options.Authority;

    /// <summary>Whom the token speaks for.</summary>
    public async Task<PersonFound> FindAsync(string text)
    {
        var checkedToken = await handler.ValidateTokenAsync(text, asks);
        if (!checkedToken.IsValid)
            return checkedToken.Exception is SecurityTokenException or ArgumentException ? PersonFound.NotTaken : PersonFound.NotAnswering;
        var token = (JsonWebToken)checkedToken.SecurityToken;
        using var payload = JsonDocument.Parse(Base64UrlEncoder.DecodeBytes(token.EncodedPayload));
        var claims = payload.RootElement;
        if (string.IsNullOrEmpty(token.Subject) || isRefused(token.Subject)) return PersonFound.NotTaken;
        if (!string.IsNullOrEmpty(token.Id) && isRefused(token.Id)) return PersonFound.NotTaken;
        var organisation = options.Organisation ?? Words(claims, options.OrganisationClaim).FirstOrDefault();
        if (organisation is null || !KeyEndpoints.IsOrganisation(organisation) || (options.Organisations is { } may && !may.Contains(organisation)))
            return PersonFound.OfNobody;
        Role[] roles = [.. Words(claims, options.RoleClaim).Select(options.MeantBy).OfType<Role>().Distinct()];
        if (roles.Length == 0) return PersonFound.WithoutRole;
        var name = Words(claims, options.NameClaim).FirstOrDefault() ?? token.Subject;
        var isOffice = roles.Contains(Role.Office);
        return new PersonFound(new Caller(
            $"{Name}#{token.Subject}", name.Length > 80 ? name[..80] : name, organisation,
            isOffice ? OfficeSource.OfPerson(Name, token.Subject) : null, roles.Length == 1 ? roles[0] : null,
            // A person is no device and posts nothing as one; of the office they record under a source of their own.
            [.. roles.SelectMany(Roles.ScopesOf).Distinct().Where(scope => isOffice || scope != Scope.PostEvents)],
            false, new DateTimeOffset(token.ValidTo, TimeSpan.Zero) + ClockSkew));
    }

    // By its whole name first: a name may have dots of its own, as addresses do.
    private static IEnumerable<string> Words(JsonElement claims, string name)
    {
        if (!claims.TryGetProperty(name, out var found))
        {
            found = claims;
            foreach (var step in name.Split('.'))
            {
                if (found.ValueKind != JsonValueKind.Object || !found.TryGetProperty(step, out found)) return [];
            }
        }

        return found.ValueKind switch
        {
            JsonValueKind.String => [found.GetString()!],
            JsonValueKind.Array => [.. found.EnumerateArray().Where(each => each.ValueKind == JsonValueKind.String).Select(each => each.GetString()!)],
            _ => [],
        };
    }
}

/// <summary>What became of a token.</summary>
/// <param name="Caller">Whom it speaks for; none where it is not taken.</param>
/// <param name="Why">Why it is not taken.</param>
public sealed record PersonFound(Caller? Caller, TokenFault Why = TokenFault.None)
{
    /// <summary>It is not taken.</summary>
    public static readonly PersonFound NotTaken = new(null, TokenFault.NotTaken);

    /// <summary>It names no organisation that is taken from its issuer.</summary>
    public static readonly PersonFound OfNobody = new(null, TokenFault.NoOrganisation);

    /// <summary>It names no role that means something here.</summary>
    public static readonly PersonFound WithoutRole = new(null, TokenFault.NoRole);

    /// <summary>Its issuer's keys cannot be had.</summary>
    public static readonly PersonFound NotAnswering = new(null, TokenFault.IssuerSilent);
}

/// <summary>Why a token is not taken.</summary>
public enum TokenFault
{
    /// <summary>It is taken.</summary>
    None,

    /// <summary>Issuer, audience, signature or time are not as they have to be.</summary>
    NotTaken,

    /// <summary>It is sound and names no organisation.</summary>
    NoOrganisation,

    /// <summary>It is sound and names no role.</summary>
    NoRole,

    /// <summary>It cannot be checked now.</summary>
    IssuerSilent,
}

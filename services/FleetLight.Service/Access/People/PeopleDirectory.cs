using Microsoft.IdentityModel.JsonWebTokens;

namespace FleetLight.Service.Access.People;

/// <summary>Finds the person of a token (JWT, RFC 7519), by the provider that issued it.</summary>
public sealed class PeopleDirectory : IDisposable
{
    private const int MostBytesOfDocument = 1_048_576;

    private readonly JsonWebTokenHandler handler = new();
    private readonly Dictionary<string, Issuer> issuers;
    private readonly HttpClient http = new(new SocketsHttpHandler { AllowAutoRedirect = false, UseCookies = false })
    {
        Timeout = TimeSpan.FromSeconds(5),
        MaxResponseContentBufferSize = MostBytesOfDocument,
    };

    /// <summary>The providers that the settings name.</summary>
    public PeopleDirectory(IConfiguration configuration, Refusals refusals, TimeProvider clock) =>
        issuers = IssuerOptions.Of(configuration).Zip(configuration.GetSection(IssuerOptions.Section).GetChildren())
            .Select(each => new Issuer(each.First, word => refusals.Has(each.Second.Key, word), http, clock))
            .ToDictionary(issuer => issuer.Name, StringComparer.Ordinal);

    /// <summary>Whether any provider is named.</summary>
    public bool Any => issuers.Count > 0;

    /// <summary>Whom the token speaks for.</summary>
    public async Task<PersonFound> FindAsync(string token)
    {
        if (!handler.CanReadToken(token)) return PersonFound.NotTaken;
        string said;
        try
        {
            said = handler.ReadJsonWebToken(token).Issuer;
        }
        catch (Exception unreadable) when (unreadable is ArgumentException or FormatException or System.Text.Json.JsonException)
        {
            return PersonFound.NotTaken;
        }

        return issuers.TryGetValue(said, out var issuer) ? await issuer.FindAsync(token) : PersonFound.NotTaken;
    }

    /// <inheritdoc/>
    public void Dispose() => http.Dispose();
}

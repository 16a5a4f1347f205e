namespace FleetLight.Service.Access.People;

/// <summary>
/// An OpenID Connect provider whose tokens are taken, as the settings name it (<c>Access__Issuers__0__Authority</c> and so on).
/// Its keys are found through its discovery document.
/// </summary>
public sealed class IssuerOptions
{
    /// <summary>Where the settings name them, by numbers.</summary>
    public const string Section = "Access:Issuers";

    /// <summary>Its address; the discovery document lies at <c>/.well-known/openid-configuration</c> below it.</summary>
    public string Authority { get; set; } = "";

    /// <summary>How it calls itself in its tokens (<c>iss</c>); its address where absent.</summary>
    public string? Issuer { get; set; }

    /// <summary>For whom its tokens have to be (<c>aud</c>).</summary>
    public string Audience { get; set; } = "";

    /// <summary>The one organisation that its people belong to. Absent, their tokens say which.</summary>
    public string? Organisation { get; set; }

    /// <summary>The claim that says the organisation, where <see cref="Organisation"/> does not.</summary>
    public string OrganisationClaim { get; set; } = "organisation";

    /// <summary>The organisations that its tokens may name; any where absent.</summary>
    public string[]? Organisations { get; set; }

    /// <summary>The claim that says the roles: a word, a list of words, or a path with dots to either.</summary>
    public string RoleClaim { get; set; } = "roles";

    /// <summary>Its words for our roles. Absent, its words are ours.</summary>
    public Dictionary<string, string>? Roles { get; set; }

    /// <summary>The claim that says what people call somebody.</summary>
    public string NameClaim { get; set; } = "name";

    /// <summary>How people sign in at it on the office page; they do not where absent.</summary>
    public SignInOptions? SignIn { get; set; }

    /// <summary>Whether it may be asked without TLS; for trials on one machine.</summary>
    public bool AllowHttp { get; set; }

    /// <summary>Number of seconds after which it may be asked again for its keys, where a token names one that is not known.</summary>
    public int AskAgainSeconds { get; set; } = 30;

    /// <summary>The issuers that the settings name.</summary>
    public static IReadOnlyList<IssuerOptions> Of(IConfiguration configuration)
    {
        var issuers = configuration.GetSection(Section).Get<IssuerOptions[]>() ?? [];
        for (var index = 0; index < issuers.Length; index++)
        {
            if (issuers[index].Wrong() is { } wrong) throw new InvalidOperationException($"Access:Issuers:{index}: {wrong}");
        }

        return issuers;
    }

    private string? Wrong()
    {
        if (!Uri.TryCreate(Authority, UriKind.Absolute, out var url) || url.Scheme is not ("http" or "https")) return "Authority is no absolute address.";
        if (url.Scheme == "http" && !AllowHttp) return "Authority is without TLS.";
        if (Audience.Length == 0) return "Audience is missing: a token for somebody else must not be taken.";
        if (Organisation is not null && !KeyEndpoints.IsOrganisation(Organisation)) return "Organisation is no name of an organisation.";
        if (SignIn?.Wrong() is { } wrong) return wrong;
        if (AskAgainSeconds < 1) return "AskAgainSeconds is below 1.";
        return Roles?.Values.FirstOrDefault(word => RoleOf(word) is null) is { } unknown ? $"'{unknown}' is none of our roles." : null;
    }

    /// <summary>Our role for a word of a token; none where it has none.</summary>
    public Role? MeantBy(string word) => Roles is { Count: > 0 } ? Roles.TryGetValue(word, out var ours) ? RoleOf(ours) : null : RoleOf(word);

    private static Role? RoleOf(string word) =>
        Enum.GetValues<Role>().Cast<Role?>().FirstOrDefault(role => string.Equals(Hosting.Query.Word(role!.Value), word, StringComparison.Ordinal));
}

namespace FleetLight.Service.Access.People;

/// <summary>
/// How people sign in at a provider on the office page (<c>Access__Issuers__0__SignIn__ClientId</c> and so on): a public client there,
/// authorization code with PKCE, with the address <c>/office/signed-in</c> of this service as where it sends people back.
/// </summary>
public sealed class SignInOptions
{
    /// <summary>Names the page to the provider.</summary>
    public string ClientId { get; set; } = "";

    /// <summary>What people call the provider.</summary>
    public string Name { get; set; } = "your firm";

    /// <summary>What is asked of it. <c>offline_access</c> among it has many providers give tokens that can be renewed.</summary>
    public string Scope { get; set; } = "openid profile";

    /// <summary>Which token of its answer is for this service: <c>access_token</c> or <c>id_token</c>.</summary>
    public string Token { get; set; } = "access_token";

    /// <summary>Origins besides the authority's that the page has to reach: that of the token endpoint, where it is another.</summary>
    public string[] Origins { get; set; } = [];

    /// <summary>What is wrong with it; none where it is sound.</summary>
    public string? Wrong()
    {
        if (ClientId.Length == 0) return "SignIn:ClientId is missing.";
        if (Token is not ("access_token" or "id_token")) return "SignIn:Token is neither access_token nor id_token.";
        return Array.Find(Origins, origin => !Uri.TryCreate(origin, UriKind.Absolute, out var url) || url.GetLeftPart(UriPartial.Authority) != origin) is { } odd
            ? $"SignIn:Origins: '{odd}' is no origin, such as https://people.example." : null;
    }
}

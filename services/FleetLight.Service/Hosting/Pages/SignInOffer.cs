using FleetLight.Service.Access.People;

namespace FleetLight.Service.Hosting.Pages;

/// <summary>What the office page is told of the providers at which people sign in. Nothing of it is secret: the client is a public one.</summary>
public static class SignInOffer
{
    /// <summary>Its file below the page's address.</summary>
    public const string File = "sign-in.json";

    /// <summary>The providers, as the page reads them.</summary>
    public static object[] Of(IEnumerable<IssuerOptions> issuers) =>
    [
        .. issuers.Where(issuer => issuer.SignIn is not null).Select(issuer => new
        {
            name = issuer.SignIn!.Name,
            authority = issuer.Authority,
            issuer = issuer.Issuer ?? issuer.Authority,
            clientId = issuer.SignIn.ClientId,
            scope = issuer.SignIn.Scope,
            token = issuer.SignIn.Token,
        }),
    ];

    /// <summary>The origins that the page has to reach for it.</summary>
    public static string[] Origins(IEnumerable<IssuerOptions> issuers) =>
    [
        .. issuers.Where(issuer => issuer.SignIn is not null)
            .SelectMany(issuer => issuer.SignIn!.Origins.Prepend(new Uri(issuer.Authority).GetLeftPart(UriPartial.Authority))).Distinct(StringComparer.Ordinal),
    ];
}

namespace FleetLight.Service.Hosting;

/// <summary>Headers that keep browsers from doing with an answer what it is not meant for.</summary>
public static class SafeHeaders
{
    /// <summary>What an answer of the API may load or be shown in: nothing.</summary>
    public const string ApiPolicy = "default-src 'none'; frame-ancestors 'none'; base-uri 'none'; form-action 'none'";

    /// <summary>
    /// What the page of the API's description may load: what this service serves. It writes styles and one script into the page
    /// and draws pictures from data.
    /// </summary>
    public const string DocsPolicy =
        "default-src 'self'; script-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; "
        + "base-uri 'none'; form-action 'none'; frame-ancestors 'none'; object-src 'none'";

    // Two years, as lists of such hosts ask.
    private const string Https = "max-age=63072000; includeSubDomains";

    /// <summary>Sets them on every answer. What serves pages puts its own policy in place of the one set here.</summary>
    public static void UseSafeHeaders(this WebApplication app) => app.Use((context, next) =>
    {
        // As the answer starts: a fault's answer begins with its headers cleared.
        context.Response.OnStarting(static state =>
        {
            Set((HttpContext)state);
            return Task.CompletedTask;
        }, context);
        return next(context);
    });

    private static void Set(HttpContext context)
    {
        var headers = context.Response.Headers;
        headers.XContentTypeOptions = "nosniff";
        headers["Referrer-Policy"] = "no-referrer";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        if (headers.ContentSecurityPolicy.Count == 0)
            headers.ContentSecurityPolicy = context.Request.Path.StartsWithSegments("/docs", StringComparison.Ordinal) ? DocsPolicy : ApiPolicy;
        if (context.Request.IsHttps) headers.StrictTransportSecurity = Https;
        // What the API answers is its caller's alone, and some of it is a secret that is shown once.
        if (headers.CacheControl.Count == 0 && context.Request.Path.StartsWithSegments("/v1", StringComparison.Ordinal)) headers.CacheControl = "no-store";
    }
}

using Microsoft.Net.Http.Headers;

namespace FleetLight.Service.Hosting;

/// <summary>
/// Lets pages of other origins (map tools that run in a browser) read open data and exports, where <c>OpenData__Origins__0</c> and so on
/// name them, or <c>*</c> all. Nowhere set, no such page is let read anything: a key that is typed into a page is that page's to use, so
/// whoever runs the service says which pages. The key travels in a header that the page sets; nothing that a browser
/// would send by itself, such as a remembered password, opens an answer to it, for credentials are never allowed.
/// </summary>
public static class OtherOrigins
{
    /// <summary>The setting's section.</summary>
    public const string Section = "OpenData:Origins";

    private const string Policy = "open-data";
    private const string Any = "*";
    private static readonly TimeSpan Remembered = TimeSpan.FromMinutes(10);

    private static readonly string[] Sent =
        [HeaderNames.Authorization, HeaderNames.Accept, HeaderNames.Range, HeaderNames.IfRange, HeaderNames.IfNoneMatch];

    private static readonly string[] Shown =
    [
        HeaderNames.Link, "Content-Crs", HeaderNames.ETag, "Repr-Digest", HeaderNames.ContentDisposition, HeaderNames.ContentRange, HeaderNames.AcceptRanges,
        HeaderNames.ContentLength, HeaderNames.RetryAfter, HeaderNames.WWWAuthenticate,
    ];

    /// <summary>Adds the rule, where pages are named. A name that is no origin ends the start.</summary>
    public static void AddOtherOrigins(this IServiceCollection services, IConfiguration configuration)
    {
        if (Named(configuration) is not { Length: > 0 } origins) return;
        if (origins.FirstOrDefault(origin => origin != Any && !IsOrigin(origin)) is { } wrong)
        {
            throw new InvalidOperationException(
                $"OpenData__Origins: '{wrong}' is no origin. Give scheme, host and port only, such as https://maps.example, or * for all.");
        }

        services.AddCors(cors => cors.AddPolicy(Policy, policy =>
        {
            _ = origins.Contains(Any) ? policy.AllowAnyOrigin() : policy.WithOrigins(origins);
            policy.WithMethods(HttpMethods.Get, HttpMethods.Head).WithHeaders(Sent).WithExposedHeaders(Shown).SetPreflightMaxAge(Remembered).DisallowCredentials();
        }));
    }

    /// <summary>Answers questions of browsers before a key is asked for: they come without one.</summary>
    public static void UseOtherOrigins(this WebApplication app)
    {
        if (Named(app.Configuration).Length > 0) app.UseCors();
    }

    /// <summary>Pages that are named may read what this answers.</summary>
    /// <param name="builder">The endpoints.</param>
    /// <param name="routes">Where they are mapped.</param>
    public static TBuilder ReadableElsewhere<TBuilder>(this TBuilder builder, IEndpointRouteBuilder routes) where TBuilder : IEndpointConventionBuilder
    {
        ArgumentNullException.ThrowIfNull(routes);
        if (Named(routes.ServiceProvider.GetRequiredService<IConfiguration>()).Length > 0) builder.RequireCors(Policy);
        return builder;
    }

    private static string[] Named(IConfiguration configuration) =>
        [.. configuration.GetSection(Section).GetChildren().Select(each => each.Value?.Trim().TrimEnd('/')).OfType<string>().Where(origin => origin.Length > 0)];

    private static bool IsOrigin(string text) =>
        Uri.TryCreate(text, UriKind.Absolute, out var uri) && uri.Scheme is "http" or "https" && uri.GetLeftPart(UriPartial.Authority) == text;
}

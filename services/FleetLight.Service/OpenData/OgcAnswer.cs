using System.Text;
using FleetLight.Contracts.Wire;
using FleetLight.OpenData.Html;
using FleetLight.Service.Hosting;
using Microsoft.Net.Http.Headers;

namespace FleetLight.Service.OpenData;

/// <summary>Marks endpoints that answer with a page to read too.</summary>
public sealed record AlsoPage;

/// <summary>Answers in the form that was asked for.</summary>
public static class OgcAnswer
{
    /// <summary>The value as JSON, or the page, as 'f' says or else the header Accept.</summary>
    public static IResult Of<T>(HttpContext context, T value, string mediaType, Func<string> page)
    {
        if (!TryPage(context.Request, out var wantsPage, out var problem)) return Problems.Result(problem!);
        context.Response.Headers.Vary = HeaderNames.Accept;
        context.Response.Headers.CacheControl = "no-store";
        if (!wantsPage) return Answers.Json(value, mediaType: mediaType);
        context.Response.Headers.ContentSecurityPolicy = OpenDataPage.Policy;
        return Results.Text(page(), $"{OgcLinks.Html}; charset=utf-8", Encoding.UTF8);
    }

    /// <summary>Whether a page to read is wanted.</summary>
    public static bool TryPage(HttpRequest request, out bool wantsPage, out Problem? problem)
    {
        problem = null;
        wantsPage = false;
        switch (request.Query["f"].ToString())
        {
            case "":
                var accept = request.GetTypedHeaders().Accept;
                wantsPage = Weight(OgcLinks.Html) > Math.Max(Weight(OgcLinks.GeoJson), Weight(OgcLinks.Json));
                return true;

                double Weight(string type) => accept.Where(each => each.MediaType.Equals(type, StringComparison.OrdinalIgnoreCase))
                    .Select(each => each.Quality ?? 1).DefaultIfEmpty(0).Max();
            case "json":
                return true;
            case "html":
                wantsPage = true;
                return true;
            default:
                problem = Problems.Parameter("f", "There is no such form here.", "Use json or html.");
                return false;
        }
    }

    /// <summary>That the endpoint answers with a page to read too, for its description.</summary>
    public static RouteHandlerBuilder ProducesPage(this RouteHandlerBuilder endpoint) => endpoint.WithMetadata(new AlsoPage());
}

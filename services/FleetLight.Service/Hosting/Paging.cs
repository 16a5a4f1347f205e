using System.Globalization;
using System.Text;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;

namespace FleetLight.Service.Hosting;

/// <summary>Which page of a list is asked for.</summary>
/// <param name="After">Text of the cursor; empty for the first page.</param>
/// <param name="Limit">Most members.</param>
public sealed record PageRequest(string After, int Limit)
{
    /// <summary>The cursor as an offset.</summary>
    public int Offset => int.TryParse(After, NumberStyles.None, CultureInfo.InvariantCulture, out var offset) ? offset : 0;
}

/// <summary>Cursor pages with RFC 8288 links.</summary>
public static class Paging
{
    /// <summary>Members of a page where none is asked for.</summary>
    public const int Usual = 100;

    /// <summary>Most members of a page.</summary>
    public const int Most = 1000;

    /// <summary>Reads the page that is asked for.</summary>
    public static bool TryRead(string? cursor, int? limit, out PageRequest page, out Problem? problem)
    {
        page = new PageRequest("", Usual);
        problem = null;
        if (limit is < 1 or > Most)
            problem = Problems.Parameter("limit", $"A page holds 1 to {Most} members.", $"Ask for 1 to {Most}.");
        else if (!TryDecode(cursor, out var after))
            problem = Problems.Parameter("cursor", "The cursor is none that was given out here.", "Follow the link of the page before, or start without a cursor.");
        else
            page = new PageRequest(after, limit ?? Usual);
        return problem is null;
    }

    /// <summary>A page of members that were read with one more than asked for; the key of the last is the next cursor.</summary>
    public static IResult ByKey<T>(IReadOnlyList<T> found, PageRequest page, Func<T, string> key) =>
        new PageResult<T>(found.Count > page.Limit ? [.. found.Take(page.Limit)] : found, found.Count > page.Limit ? key(found[page.Limit - 1]) : null);

    /// <summary>A page of members that were read from an offset with one more than asked for.</summary>
    public static IResult ByOffset<T>(IReadOnlyList<T> found, PageRequest page) =>
        ByKey(found, page, _ => (page.Offset + page.Limit).ToString(CultureInfo.InvariantCulture));

    /// <summary>The Link header (RFC 8288) of a page whose next one has that cursor.</summary>
    public static string LinkToNext(HttpRequest request, string next)
    {
        var query = request.Query.Where(pair => pair.Key != "cursor")
            .SelectMany(pair => pair.Value, (pair, value) => KeyValuePair.Create<string, string?>(pair.Key, value))
            .Append(KeyValuePair.Create<string, string?>("cursor", next));
        return $"<{request.Path}{QueryString.Create(query)}>; rel=\"next\"";
    }

    private static bool TryDecode(string? cursor, out string text)
    {
        text = "";
        if (string.IsNullOrEmpty(cursor)) return true;
        if (cursor.Length > 200) return false;
        try
        {
            text = Encoding.UTF8.GetString(Convert.FromBase64String(cursor.Replace('-', '+').Replace('_', '/')));
            return !text.Contains('\0', StringComparison.Ordinal);
        }
        catch (FormatException)
        {
            return false;
        }
    }

    /// <summary>A key as the cursor that is given out.</summary>
    public static string Encode(string text) => Convert.ToBase64String(Encoding.UTF8.GetBytes(text)).Replace('+', '-').Replace('/', '_');

    private sealed class PageResult<T>(IReadOnlyList<T> items, string? after) : IResult
    {
        public Task ExecuteAsync(HttpContext httpContext)
        {
            var next = after is null ? null : Encode(after);
            if (next is not null) httpContext.Response.Headers.Link = LinkToNext(httpContext.Request, next);
            return Answers.Json(new Page<T> { Items = items, Next = next }).ExecuteAsync(httpContext);
        }
    }
}

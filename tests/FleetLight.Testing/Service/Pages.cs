using System.Net;
using FleetLight.Contracts.Views;

namespace FleetLight.Testing.Service;

/// <summary>Follows a list from page to page, by its Link header (RFC 8288) as a client would.</summary>
public static class Pages
{
    /// <summary>The members of all pages, of which there have to be that many.</summary>
    public static async Task<List<T>> AllAsync<T>(ApiClient api, string path, int expectedPages)
    {
        List<T> all = [];
        string? next = path;
        int pages = 0;
        while (next is not null)
        {
            Answer answer = (await api.GetAsync(next).ConfigureAwait(false)).Expect(HttpStatusCode.OK);
            Page<T> page = answer.As<Page<T>>();
            all.AddRange(page.Items);
            pages++;
            next = NextOf(answer);
            if (next is null != page.Next is null) throw new InvalidOperationException($"Page {pages} has a cursor or a link, and not both.");
            if (pages > expectedPages) throw new InvalidOperationException($"There are more than {expectedPages} pages.");
        }

        return pages == expectedPages ? all : throw new InvalidOperationException($"There are {pages} pages, not {expectedPages}.");
    }

    /// <summary>Where the next page is; none on the last.</summary>
    public static string? NextOf(Answer answer)
    {
        if (!answer.Headers.TryGetValues("Link", out IEnumerable<string>? values)) return null;
        string link = values.Single();
        return link.StartsWith('<') && link.EndsWith(">; rel=\"next\"", StringComparison.Ordinal)
            ? link[1..link.IndexOf('>', StringComparison.Ordinal)]
            : throw new InvalidOperationException($"The Link header is not one link to the next page: {link}");
    }
}

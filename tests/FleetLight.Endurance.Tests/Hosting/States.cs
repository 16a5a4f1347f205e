using System.Net;
using System.Text.Json.Nodes;
using FleetLight.Testing.Service;

namespace FleetLight.Endurance.Tests.Hosting;

/// <summary>All that the service answers about an organisation, as lines to compare.</summary>
internal static class States
{
    private static readonly string[] Lists =
    [
        "/v1/circuits", "/v1/sites", "/v1/alerts?standing=any", "/v1/refused", "/v1/refused?state=mended", "/v1/refused?state=dismissed",
        "/v1/webhooks", "/v1/set-aside",
    ];

    private static readonly (string Path, string Kind)[] Each =
    [
        ("/v1/circuits", "circuit"), ("/v1/sites", "site"), ("/v1/ducts", "duct"), ("/v1/cables", "cable"), ("/v1/boxes", "box"), ("/v1/alerts", "alert"),
    ];

    /// <summary>The states of everything that the change feed names, and every list; optionally without the feed and the alerts' own lives.</summary>
    /// <param name="office">A key that may read and administer.</param>
    /// <param name="withHistory">Whether what depends on the way is told too: the feed, and when alerts were raised.</param>
    public static async Task<List<string>> OfAsync(ApiClient office, bool withHistory = true)
    {
        List<string> lines = [];
        List<JsonNode> changes = await AllAsync(office, "/v1/changes?limit=1000");
        foreach (string path in Lists.Where(path => withHistory || !path.StartsWith("/v1/alerts", StringComparison.Ordinal)))
            lines.AddRange((await AllAsync(office, path)).Select(item => $"{path} {item.ToJsonString()}"));
        foreach ((string path, string kind) in Each.Where(each => withHistory || each.Kind != "alert"))
        {
            IEnumerable<string> ids = changes.Where(change => (string?)change["kind"] == kind).Select(change => (string)change["id"]!).Distinct().Order();
            foreach (string id in ids)
            {
                lines.Add(await LineAsync(office, $"{path}/{Uri.EscapeDataString(id)}"));
                if (kind == "circuit") lines.Add(await LineAsync(office, $"{path}/{Uri.EscapeDataString(id)}/readings?limit=1000"));
                if (kind == "site") lines.Add(await LineAsync(office, $"{path}/{Uri.EscapeDataString(id)}/as-built"));
            }
        }

        lines.Add(await LineAsync(office, "/v1/judging"));
        if (withHistory) lines.AddRange(changes.Select(change => change.ToJsonString()));
        return lines;
    }

    /// <summary>What is kept beside the states: visits, photos, keys, devices, acts of administering, and the facts themselves.</summary>
    public static async Task<List<string>> BesideAsync(ApiClient office)
    {
        List<string> lines = [];
        foreach (string path in (string[])["/v1/visits", "/v1/photos", "/v1/keys", "/v1/devices", "/v1/audit", "/v1/facts?order=recorded&limit=1000"])
            lines.AddRange((await AllAsync(office, path)).Select(item => $"{path} {item.ToJsonString()}"));
        return lines;
    }

    /// <summary>Every member of a list.</summary>
    public static async Task<List<JsonNode>> AllAsync(ApiClient office, string path)
    {
        List<JsonNode> all = [];
        string? next = path;
        while (next is not null)
        {
            Answer answer = await office.GetAsync(next);
            // A list that an earlier version does not have is empty.
            if (answer.Status == HttpStatusCode.NotFound) return [];
            answer.Expect(HttpStatusCode.OK);
            JsonArray items = answer.Json as JsonArray ?? answer.Json["items"]!.AsArray();
            all.AddRange(items.Select(item => item!.DeepClone()));
            // The change feed always names a next page; it ends where nothing more is in it.
            next = items.Count == 0 ? null : Pages.NextOf(answer);
        }

        return all;
    }

    private static async Task<string> LineAsync(ApiClient office, string path)
    {
        Answer answer = await office.GetAsync(path);
        string text = answer.Text;
        int trace = text.IndexOf(",\"traceId\"", StringComparison.Ordinal);
        return $"{path} {(int)answer.Status} {(trace < 0 ? text : text[..trace])}";
    }
}

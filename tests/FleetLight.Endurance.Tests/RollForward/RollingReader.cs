using System.Net;
using System.Text.Json.Nodes;
using FleetLight.Endurance.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Endurance.Tests.RollForward;

/// <summary>Readers that ask one node after the other and bring along how far they have seen, as the contract says.</summary>
internal static class RollingReader
{
    private const string SeenThrough = "Seen-Through";

    /// <summary>Reads a circuit until told to stop: its newest reading is never older than one that was seen. Gives the number of reads.</summary>
    public static async Task<int> ReadAsync(string key, string circuit, ServiceProcess[] nodes, CancellationToken stop)
    {
        (string seen, DateTimeOffset newest, int reads) = ("", DateTimeOffset.MinValue, 0);
        for (int turn = 0; !stop.IsCancellationRequested; turn++)
        {
            (string, string)[] headers = seen.Length == 0 ? [] : [(SeenThrough, seen)];
            if (await TryAsync(nodes[turn % nodes.Length].Anybody.With(key), $"/v1/circuits/{circuit}", headers) is not { } answer) continue;
            if (answer.Status == HttpStatusCode.NotFound && newest == DateTimeOffset.MinValue) continue;
            // A node that is behind what was seen says so, rather than show less.
            if (answer.Status == HttpStatusCode.ServiceUnavailable) continue;
            JsonNode view = answer.Expect(HttpStatusCode.OK).Json;
            seen = answer.Headers.GetValues(SeenThrough).Single();
            DateTimeOffset shown = view["lastReadings"]!.AsArray().Select(reading => (DateTimeOffset)reading!["happenedAt"]!).DefaultIfEmpty(DateTimeOffset.MinValue).Max();
            Assert.True(shown >= newest, $"Read {reads} shows {shown:O} after {newest:O} was seen (through {seen}).");
            (newest, reads) = (shown, reads + 1);
        }

        return reads;
    }

    /// <summary>Follows the change feed by its cursor until told to stop, and then to its end at the last node; gives all that it was told.</summary>
    public static async Task<List<string>> FollowAsync(string key, ServiceProcess[] nodes, CancellationToken stop)
    {
        List<string> told = [];
        string next = "/v1/changes?limit=50";
        for (int turn = 0; ; turn++)
        {
            bool isLast = stop.IsCancellationRequested;
            ServiceProcess node = isLast ? nodes[^1] : nodes[turn % nodes.Length];
            if (await TryAsync(node.Anybody.With(key), next, []) is not { Status: HttpStatusCode.OK } answer) continue;
            JsonArray items = answer.Json["items"]!.AsArray();
            told.AddRange(items.Select(item => item!.ToJsonString()));
            if (items.Count == 0 && isLast) return told;
            next = Pages.NextOf(answer) ?? next;
        }
    }

    private static async Task<Answer?> TryAsync(ApiClient api, string path, (string, string)[] headers)
    {
        await Task.Delay(5, CancellationToken.None);
        try
        {
            return await api.GetAsync(path, headers);
        }
        catch (HttpRequestException)
        {
            // That node has ended, or is not back yet.
            return null;
        }
    }
}

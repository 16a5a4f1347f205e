using System.Net;
using System.Text.Json.Nodes;
using FleetLight.Endurance.Tests.Hosting;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Service;

namespace FleetLight.Endurance.Tests.Fuzz;

/// <summary>An operation of the service as its OpenAPI document lists it.</summary>
/// <param name="Method">HTTP method.</param>
/// <param name="Path">Path with its parameters in braces.</param>
/// <param name="Queries">Names of its query parameters.</param>
/// <param name="ContentTypes">Content types of its body; none where it takes none.</param>
internal sealed record Operation(string Method, string Path, string[] Queries, string[] ContentTypes);

/// <summary>What requests are made for: the operations of the service, keys that open them, ids that are there, bodies that are sound.</summary>
internal sealed class Target
{
    private static readonly string[] AllScopes = ["post-events", "administer", "read-status", "read-as-built"];

    private Target(Operation[] operations, string source, string key, string[] ids, IReadOnlyDictionary<string, JsonNode[]> bodies) =>
        (Operations, Source, Key, Ids, Bodies) = (operations, source, key, ids, bodies);

    /// <summary>The operations.</summary>
    public Operation[] Operations { get; }

    /// <summary>The device that the key speaks for.</summary>
    public string Source { get; }

    /// <summary>A key that may do everything in its organisation.</summary>
    public string Key { get; }

    /// <summary>Ids of things that are there. The key is not among them: it has to last.</summary>
    public string[] Ids { get; }

    /// <summary>Sound bodies by path.</summary>
    public IReadOnlyDictionary<string, JsonNode[]> Bodies { get; }

    /// <summary>
    /// Makes an organisation with a little of everything in it, and several devices that each speak for themselves: the batches of one
    /// are taken in one after the other.
    /// </summary>
    public static async Task<Target[]> PrepareAsync(ServiceProcess service, int devices)
    {
        Organisation organisation = await Organisation.CreateAsync(service.Host);
        List<(string Source, string Key)> speakers = [];
        foreach (int number in Enumerable.Range(1, devices))
        {
            string source = $"/devices/crew-{number}";
            speakers.Add((source, (string)(await organisation.Office.PostAsync("/v1/keys", new { name = "fuzz", scopes = AllScopes, source })).Json["key"]!));
        }

        Device device = new(organisation.Office.With(speakers[0].Key), speakers[0].Source);
        await device.TellAsync(
            Facts.SiteOpened(), Facts.DuctLaid(), Facts.CablePulled(), Facts.BoxSealed(gelFilled: false), CircuitFacts.Designed(), CircuitFacts.Reading(9.2));
        string refused = (string)(await device.PostAsync("[{}]")).Json["outcomes"]![0]!["refusedId"]!;
        await service.CaughtUpAsync();
        JsonNode hook = (await organisation.Office.PostAsync("/v1/webhooks", new { url = "http://127.0.0.1:9/" })).Json;
        string alert = (string)(await organisation.Office.GetAsync("/v1/alerts")).Json["items"]![0]!["id"]!;
        JsonNode document = (await service.Anybody.GetAsync("/openapi/v1.json")).Expect(HttpStatusCode.OK).Json;
        Operation[] operations = [.. OperationsOf(document)];
        string[] ids = [Facts.Site, Facts.Duct, Facts.Cable, Facts.Box, Facts.Circuit, refused, alert, (string)hook["id"]!, "0123456789ab"];
        return [.. speakers.Select(speaker => new Target(operations, speaker.Source, speaker.Key, ids, BodiesOf()))];
    }

    private static IEnumerable<Operation> OperationsOf(JsonNode document) =>
        from path in document["paths"]!.AsObject()
        from method in path.Value!.AsObject()
        let parameters = method.Value!["parameters"]?.AsArray() ?? []
        select new Operation(
            method.Key.ToUpperInvariant(), path.Key,
            [.. parameters.Where(each => (string?)each!["in"] == "query").Select(each => (string)each!["name"]!)],
            [.. method.Value["requestBody"]?["content"]?.AsObject().Select(content => content.Key) ?? []]);

    private static Dictionary<string, JsonNode[]> BodiesOf()
    {
        JsonNode[] events = [.. Directory.GetFiles(Repository.At("contracts/examples"), "*.json").Order(StringComparer.Ordinal).Select(Read)];
        Dictionary<string, JsonNode[]> bodies = new(StringComparer.Ordinal)
        {
            ["/v1/events"] = events,
            ["/v1/refused/{id}/resubmit"] = events,
            ["/v1/refused/{id}/dismiss"] = [Parse("""{"note":"Not needed."}""")],
            ["/v1/visits"] = [Parse("""{"day":"2026-03-04","siteId":"site-1","crew":"Birch","alertIds":[],"note":"Ring first."}""")],
            ["/v1/visits/{id}"] = [Parse("""{"day":"2026-03-05","version":1,"note":"Ring first."}""")],
            ["/v1/visits/{id}/done"] = [Parse("""{"note":"All done."}""")],
            ["/v1/alerts/{id}/acknowledge"] = [Parse("""{"note":"Seen."}""")],
            ["/v1/keys"] = [Parse("""{"name":"a key","scopes":["read-status"]}"""), Parse("""{"name":"b","scopes":["post-events"],"source":"/devices/crew-2"}""")],
            ["/v1/webhooks"] = [Parse("""{"url":"http://127.0.0.1:9/","rules":["reading-outside"]}""")],
            ["/v1/judging"] = [Parse("""{"falseAlarmPercent":0.5,"missedFaultPercent":5}""")],
        };
        foreach (IGrouping<string, string> calculation in Directory.GetFiles(Repository.At("contracts/examples/calculations"), "*.request.json")
                     .GroupBy(file => Path.GetFileName(file).Split('.')[0]))
            bodies[$"/v1/calculations/{calculation.Key}"] = [.. calculation.Order(StringComparer.Ordinal).Select(Read)];
        return bodies;
    }

    private static JsonNode Read(string file) => Parse(File.ReadAllText(file));

    private static JsonNode Parse(string text) => JsonNode.Parse(text)!;
}

using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Works.Laws;

/// <summary>What a service keeps of an organisation and answers to it, as lines to compare.</summary>
internal static class Dump
{
    // What depends on when and how something arrived: the events themselves, what was told of them, and the keys.
    private static readonly string[] OfArrival =
    [
        "mt_events", "mt_streams", "mt_event_progression", "mt_doc_alertdocument", "mt_doc_delivery", "mt_doc_webhook", "mt_doc_refusedfact",
        "mt_doc_keyrecord", "mt_doc_deadletterevent", "fl_change", "fl_emitted", "fl_waiting_correction",
        "fl_ledger_leaf", "fl_ledger_node", "fl_ledger_head", "fl_ledger_checkpoint", "fl_ledger_export", "fl_subscription", "fl_parked",
        // Made when somebody asks, and kept up from then on.
        "fl_feature", "fl_feature_place", "fl_subscription", "fl_parked",
    ];

    /// <summary>Every row that follows from the facts and not from their arrival.</summary>
    public static async Task<string[]> StatesAsync(FleetService service, string organisation)
    {
        List<string> tables = await service.QueryAsync<string>(
            "select table_name::text from information_schema.columns where table_schema = 'fleetlight' and column_name = 'tenant_id'");
        List<string> lines = [];
        foreach (string table in tables.Except(OfArrival).Order(StringComparer.Ordinal)) lines.AddRange(await RowsAsync(service, table, organisation));
        return [.. lines];
    }

    /// <summary>The rows of a table, without what Marten notes of each writing.</summary>
    public static async Task<IEnumerable<string>> RowsAsync(FleetService service, string table, string organisation)
    {
        // At which place a fact came into a list depends on its arrival.
        string less = table == "fl_fact" ? " - 'position'" : "";
        List<string> rows = await service.QueryAsync<string>(
            $"select (to_jsonb(t) - 'mt_version' - 'mt_last_modified'{less})::text from fleetlight.{table} as t where tenant_id = $1", organisation);
        return rows.Order(StringComparer.Ordinal).Select(row => $"{table} {row}");
    }

    /// <summary>What is answered about everything in a history.</summary>
    public static async Task<string[]> AnswersAsync(Organisation organisation)
    {
        List<string> paths =
        [
            "/v1/circuits", "/v1/sites", "/v1/fleet", "/v1/photos?limit=1000", "/v1/visits?limit=1000", "/v1/sites/s1/as-built", "/v1/sites/s2/as-built",
            .. Ids("sites/s", 2), .. Ids("ducts/d", 3), .. Ids("cables/c", 3), .. Ids("boxes/b", 3), .. Ids("circuits/k", 2),
            "/v1/facts?site=s1&limit=1000", "/v1/facts?site=s2&limit=1000", "/v1/facts?kind=duct&thing=d1", "/v1/facts?kind=circuit&thing=k1",
            .. Ids("circuits/k", 2).Select(path => $"{path}/readings?limit=1000"),
            .. Ids("circuits/k", 2).SelectMany(path => Enumerable.Range(0, 4).Select(
                number => $"{path}?asOf={Uri.EscapeDataString(Device.Began.AddHours(10 * number).ToString("O"))}")),
        ];
        List<string> answers = [];
        foreach (string path in paths)
        {
            Answer answer = await organisation.Office.GetAsync(path);
            // Two refusals would be alike and say nothing.
            Assert.True((int)answer.Status is 200 or 404, $"{path}: {answer.Text}");
            answers.Add($"{path} {(int)answer.Status} {Trace(answer.Text)}");
        }

        return [.. answers];
    }

    /// <summary>The alerts that stand, by what they say; how often they were raised on the way depends on the way.</summary>
    public static async Task<string[]> StandingAsync(Organisation organisation) =>
    [
        .. (await organisation.Office.GetAsync("/v1/alerts?limit=1000")).Json["items"]!.AsArray()
            .Select(alert => $"{alert!["id"]} {alert["finding"]!.ToJsonString()}"),
    ];

    private static IEnumerable<string> Ids(string prefix, int most) => Enumerable.Range(1, most).Select(number => $"/v1/{prefix}{number}");

    private static string Trace(string text) => text.IndexOf(",\"traceId\"", StringComparison.Ordinal) is var at and >= 0 ? text[..at] : text;
}

using System.Text.RegularExpressions;
using FleetLight.Service.Tests.Hosting;
using Xunit;

namespace FleetLight.Service.Tests.Store;

/// <summary>Every SQL text of ours that touches a table asks for the organisation, or is named here with the reason.</summary>
public sealed partial class TenantSqlTests
{
    // What each of these lines holds, and why it may look at every organisation.
    private static readonly (string Holds, string Why)[] ForAll =
    [
        ("max(seq_id) from", "how far the projection is behind, a number of the whole service"),
        ("as through)", "how old the oldest event is that waits for the projection"),
        ("count(*) from fl_set_aside", "how much stands aside in the whole service, a number"),
        ("mt_doc_deadletterevent where (data", "what may be deleted: the next line asks for the organisation's events"),
        ("select severity, count(*)", "alerts of the whole service by severity, numbers"),
        ("select version, least_beside", "the version of the database"),
        ("insert into {Table} (version", "the same"),
        ("coalesce(max(position), 0)", "the newest place in the feed, which shows no content"),
        ("where position >= $1 and", "the follower, which throws remembered states of all organisations away"),
        ("where position > $1 order", "the same"),
        ("from {Tables.Schema}.mt_events where id = wanted.id", "an event's id follows from its organisation"),
        ("select tenant_id, position, ordinal", "the columns of the feed, whose conditions follow"),
        ("for update skip locked", "the worker leases deliveries of all, and loads each in its own organisation"),
        ("select distinct tenant_id from", "which organisations have secrets to seal anew, whose rows are then asked for one by one"),
        ("from fl_facts_whole", "whether the lists of facts are filled, for the whole service"),
        ("select through from {Tables.Schema}.fl_ledger_progress", "how far the ledgers of all are written, a number"),
        ("where name = 'HighWaterMark'", "how far their order is settled, a number"),
        ("when jsonb_exists(data, 'of')", "the ledger's appender, which puts each fact into the ledger of its own organisation"),
        ("from {Tables.Schema}.fl_ledger_gap as g", "the same"),
        ("delete from {Tables.Schema}.fl_ledger_gap", "places in the order of events, which show no content"),
        ("insert into {Tables.Schema}.fl_ledger_gap", "the same"),
        ("insert into {Tables.Schema}.fl_ledger_progress", "how far the ledgers of all are written, a number"),
        ("fl_ledger_head as h left join", "the worker, which makes each checkpoint in its own organisation"),
        ("{Tables.Schema}.fl_ledger_key", "the public keys of the service"),
        ("where {where} order by", "its conditions begin with the organisation"),
        ("from {Table} where {where}", "the same: features and their counts"),
    ];

    [Fact]
    public void Every_statement_asks_for_the_organisation()
    {
        List<string> without = [];
        HashSet<string> used = [];
        int seen = 0;
        foreach (string file in Directory.EnumerateFiles(Repository.At("services/FleetLight.Service"), "*.cs", SearchOption.AllDirectories)
                     .Where(file => !file.Contains("/obj/", StringComparison.Ordinal) && !file.EndsWith("Store/Tables.cs", StringComparison.Ordinal)
                         // A file of one organisation's own.
                         && !file.EndsWith("/GeoPackageWriter.cs", StringComparison.Ordinal)
                         // A rebuild works on the whole store, for whoever runs the service.
                         && !file.Contains("/Rebuilding/", StringComparison.Ordinal)))
        {
            foreach (Match text in Texts().Matches(File.ReadAllText(file)))
            {
                if (!Statement().IsMatch(text.Value)) continue;
                seen++;
                if (AsksFor().IsMatch(text.Value)) continue;
                if (ForAll.FirstOrDefault(each => text.Value.Contains(each.Holds, StringComparison.Ordinal)).Holds is { } named) used.Add(named);
                else without.Add($"{Path.GetFileName(file)}: {text.Value}");
            }
        }

        Assert.True(seen > 25, $"Only {seen} statements were found: the look for them no longer fits the code.");
        Assert.True(without.Count == 0, string.Join('\n', without));
        Assert.All(ForAll, each => Assert.True(used.Contains(each.Holds), $"No statement holds '{each.Holds}' any more."));
    }

    // A condition on it, or an insertion of it.
    [GeneratedRegex(@"tenant_id = (\$\d|\?|any)|\(tenant_id,", RegexOptions.IgnoreCase)]
    private static partial Regex AsksFor();

    // Raw and plain string literals.
    [GeneratedRegex("\"\"\"[\\s\\S]*?\"\"\"|\"(?:[^\"\\\\\\n]|\\\\.)*\"")]
    private static partial Regex Texts();

    [GeneratedRegex(@"\b(from|into|update|join)\s+(\{(Tables\.Schema|DeadLetters\.Table|Devices|Table|Waiting)\b|fl_)|\{Columns\}", RegexOptions.IgnoreCase)]
    private static partial Regex Statement();
}

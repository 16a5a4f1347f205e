using System.Net;
using System.Security.Cryptography;
using System.Text.Json.Nodes;
using FleetLight.Endurance.Tests.Hosting;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Postgres;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Endurance.Tests.Upgrade;

/// <summary>The service starts on what earlier versions left behind.</summary>
public sealed class UpgradeTests : IAsyncLifetime
{
    // Versions from this one on list facts; what one before them left has to be built again for that.
    private const int ListsFactsSince = 4;

    private TestDatabase database = null!;

    public static TheoryData<int> Versions => [.. Dumped.Versions];

    public async ValueTask InitializeAsync() => database = await TestDatabase.CreateAsync();

    public ValueTask DisposeAsync() => database.DisposeAsync();

    [Theory]
    [MemberData(nameof(Versions))]
    public async Task No_fact_is_lost_and_the_states_are_what_the_earlier_version_answered(int version)
    {
        Dumped dumped = Dumped.Of(version);
        await Dumped.RestoreAsync(version, database.ConnectionString);
        await using ServiceProcess service = await ServiceProcess.StartAsync(database.ConnectionString);
        await service.CaughtUpAsync();
        ApiClient office = service.Anybody.With(dumped.OfficeKey);

        List<string> facts = await Sql.FactsAsync(database.ConnectionString);
        Assert.Equal(dumped.Facts, facts.Order());
        Holds(dumped.Answers, await States.OfAsync(office));
        if (dumped.Beside is { } beside) Holds(beside, await States.BesideAsync(office));
        if (version >= ListsFactsSince) await PicturesAsync(office);
        Device[] devices = [.. dumped.DeviceKeys.Select(key => new Device(service.Anybody.With(key), ""))];
        Assert.Equal(dumped.Receipts, await Task.WhenAll(devices.Select(async device => (await device.Api.GetAsync("/v1/devices/self/receipts")).Text)));

        // And it goes on from there: a fact is worked into a state that the earlier version made.
        Device van = new(devices[1].Api, "urn:fleetlight:van-7");
        van.Skip(10_000);
        await van.TellAsync(Device.Began.AddDays(100), CircuitFacts.Reading(9.25, circuitId: "circuit-2", siteId: "site-2"));
        JsonNode circuit = await Eventually.ReadAsync(
            async () => (await office.GetAsync("/v1/circuits/circuit-2")).Json,
            state => (double)state["lastReadings"]![0]!["value"]! == 9.25, "the new reading to be in the state");

        // The lists of facts are whole once all was built again, and then there is nothing to do.
        bool isWhole = version >= ListsFactsSince;
        Assert.Equal(isWhole ? HttpStatusCode.OK : HttpStatusCode.ServiceUnavailable, (await office.GetAsync("/v1/facts")).Status);
        if (isWhole) Assert.Equal((0, ""), await ServiceProcess.RunAsync(database.ConnectionString, "rebuild --unless-whole"));
        (int exitCode, string output) = await ServiceProcess.RunAsync(database.ConnectionString, isWhole ? "rebuild" : "rebuild --unless-whole");
        Assert.True(exitCode == 0, output);
        Assert.Contains("The new states are in use", output, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, (await office.GetAsync("/v1/facts")).Status);
        Assert.Equal((0, ""), await ServiceProcess.RunAsync(database.ConnectionString, "rebuild --unless-whole"));
        Assert.Equal(Brief(circuit), Brief((await office.GetAsync("/v1/circuits/circuit-2")).Json));
        FaultRow row = new(
            $"upgrade from version {version}", 1, dumped.Facts.Length, dumped.Facts.Length, facts.Count, dumped.Facts.Except(facts).Count(),
            facts.Count - facts.Distinct().Count());
        row.Keep($"upgrade-{version}");
    }

    [Theory]
    [MemberData(nameof(Versions))]
    public async Task What_signs_webhooks_is_sealed_and_signs_what_waited_and_what_is_new(int version)
    {
        Dumped dumped = Dumped.Of(version);
        await Dumped.RestoreAsync(version, database.ConnectionString);
        await using SignedReceiver receiver = await SignedReceiver.StartAsync();
        await Sql.ReadAsync<string>(
            database.ConnectionString,
            "update fleetlight.mt_doc_webhook set data = data || jsonb_build_object('url', $1::text || '/' || id) returning id", receiver.Url);
        Dictionary<string, string> secrets = dumped.Secrets?.ToDictionary(pair => $"/{pair.Key}", pair => pair.Value) ?? (await Sql.ReadAsync<string>(
                database.ConnectionString, "select '/' || id || ' ' || (data ->> 'secret') from fleetlight.mt_doc_webhook"))
            .Select(line => line.Split(' ')).ToDictionary(pair => pair[0], pair => pair[1]);
        List<string> waiting = await Sql.ReadAsync<string>(
            database.ConnectionString, "update fleetlight.mt_doc_delivery set due_at = now() where data ->> 'state' = 'waiting' returning id");
        Assert.NotEmpty(secrets);
        Assert.All(secrets.Values, secret => Assert.StartsWith("whsec_", secret, StringComparison.Ordinal));
        Assert.NotEmpty(waiting);

        await using ServiceProcess service = await ServiceProcess.StartAsync(database.ConnectionString);

        string kept = string.Join('\n', await Sql.ReadAsync<string>(database.ConnectionString, "select data::text from fleetlight.mt_doc_webhook"));
        Assert.All(secrets.Values, secret => Assert.DoesNotContain(secret, kept, StringComparison.Ordinal));
        Assert.All(
            await Sql.ReadAsync<string>(database.ConnectionString, "select coalesce(data ->> 'sealed', 'not sealed') from fleetlight.mt_doc_webhook"),
            each => Assert.StartsWith("s1.", each, StringComparison.Ordinal));
        Device van = new(service.Anybody.With(dumped.DeviceKeys[1]), "urn:fleetlight:van-7");
        van.Skip(10_000);
        await van.TellAsync(Facts.BoxSealed("box-new", gelFilled: false, siteId: "site-1"));
        await Eventually.IsSoAsync(
            () => receiver.All.Any(told => told.Body.Contains("box-new", StringComparison.Ordinal)) && waiting.All(id => receiver.All.Any(told => told.Id == id)),
            "what waited and what is new to be told");
        Assert.All(receiver.All, told => told.IsSignedBy(secrets[told.Path]));
    }

    [Theory]
    [MemberData(nameof(Versions))]
    public async Task The_ledger_takes_in_the_old_facts_and_open_data_are_filled_from_the_old_states(int version)
    {
        Dumped dumped = Dumped.Of(version);
        await Dumped.RestoreAsync(version, database.ConnectionString);
        await using ServiceProcess service = await ServiceProcess.StartAsync(database.ConnectionString);
        ApiClient office = service.Anybody.With(dumped.OfficeKey);

        long size = (long)(await office.PostAsync("/v1/ledger/checkpoint")).Expect(HttpStatusCode.OK).Json["size"]!;

        Assert.Equal(dumped.Facts.Count(fact => fact.StartsWith($"{SmallLoad.Name} ", StringComparison.Ordinal)), size);
        Assert.Equal(dumped.Facts, (await Sql.FactsAsync(
            database.ConnectionString, "join fleetlight.fl_ledger_leaf as l on l.tenant_id = e.tenant_id and l.event_id = e.id")).Order());
        foreach (string kind in (string[])["duct", "cable", "box", "circuit"])
        {
            string states = kind == "circuit" ? "fleetlight.fl_circuit where true" : $"fleetlight.fl_state where kind = '{kind}'";
            string plural = kind == "box" ? "boxes" : kind + "s";
            List<string> things = [];
            foreach (string id in await Sql.ReadAsync<string>(database.ConnectionString, $"select id from {states} and tenant_id = $1", SmallLoad.Name))
            {
                // What was joined to another is drawn as that one.
                if ((await office.GetAsync($"/v1/{plural}/{Uri.EscapeDataString(id)}")).Expect(HttpStatusCode.OK).Json["sameAs"] is null) things.Add(id);
            }

            Answer items = await Eventually.ReadAsync(
                () => office.GetAsync($"/ogc/collections/{plural}/items?limit=1000"),
                answer => answer.Status != HttpStatusCode.ServiceUnavailable, "the open data to be filled");
            Assert.NotEmpty(things);
            Assert.Equal(things.Order(), items.Expect(HttpStatusCode.OK).Json["features"]!.AsArray().Select(feature => (string)feature!["id"]!).Order());
        }
    }

    /// <remarks>
    /// This is what lets a node of the earlier version go on writing beside a newer one: all that its statements name is still
    /// there, and nothing that came after has to be filled by them.
    /// </remarks>
    [Theory]
    [MemberData(nameof(Versions))]
    public async Task Nothing_that_an_older_node_uses_is_taken_away_and_nothing_new_has_to_be_filled(int version)
    {
        await Dumped.RestoreAsync(version, database.ConnectionString);
        List<string> before = await ObjectsAsync();
        await using ServiceProcess service = await ServiceProcess.StartAsync(database.ConnectionString);
        List<string> after = await ObjectsAsync();

        Assert.NotEmpty(before);
        Assert.Empty(before.Except(after));
        string[] tables = [.. before.Where(line => line.StartsWith("column ", StringComparison.Ordinal)).Select(line => line.Split(' ')[1]).Distinct()];
        string[] added = [.. after.Except(before).Where(line => line.StartsWith("column ", StringComparison.Ordinal) && tables.Contains(line.Split(' ')[1]))];
        Assert.All(added, line => Assert.EndsWith(" may be left out", line, StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_database_that_only_newer_builds_may_use_is_refused_with_a_word_and_left_as_it_is()
    {
        await using (await ServiceProcess.StartAsync(database.ConnectionString))
        {
            await Sql.ReadAsync<int>(database.ConnectionString, "update fleetlight.fl_schema set version = 99, least_beside = 98 returning version");
            await Sql.ReadAsync<int>(database.ConnectionString, "alter table fleetlight.fl_state add column of_version_99 text");
        }

        InvalidOperationException refused = await Assert.ThrowsAsync<InvalidOperationException>(() => ServiceProcess.StartAsync(database.ConnectionString));

        Assert.Contains("version 99, which builds from version 98 on may use", refused.Message, StringComparison.Ordinal);
        Assert.Contains("column fl_state of_version_99 text may be left out", await ObjectsAsync());
    }

    [Fact]
    public async Task An_older_build_that_may_run_beside_a_newer_one_leaves_its_tables_alone_and_its_events_to_it()
    {
        await using ServiceProcess older = await ServiceProcess.StartAsync(database.ConnectionString);
        Organisation organisation = await Organisation.CreateAsync(older.Host);
        Device device = await organisation.AddDeviceAsync();
        await device.TellAsync(Facts.SiteOpened());
        await older.CaughtUpAsync();
        await older.StopAsync();
        await Sql.ReadAsync<int>(database.ConnectionString, "update fleetlight.fl_schema set version = 99, least_beside = 1 returning version");
        await Sql.ReadAsync<int>(database.ConnectionString, "alter table fleetlight.fl_state add column of_version_99 text");
        // As a newer node records it: an event of a type that this build does not know.
        await Sql.ReadAsync<int>(database.ConnectionString,
            "insert into fleetlight.mt_streams select (jsonb_populate_record(s, '{\"id\": \"future\"}')).* from fleetlight.mt_streams as s where id = 'urn:device:a'");
        await Sql.ReadAsync<int>(database.ConnectionString,
            """
            insert into fleetlight.mt_events select (jsonb_populate_record(e, jsonb_build_object('seq_id', nextval('fleetlight.mt_events_sequence'),
              'id', gen_random_uuid(), 'stream_id', 'future', 'type', 'fleetlight.future.v1', 'mt_dotnet_type', 'Future', 'data', '{}'::jsonb))).*
            from fleetlight.mt_events as e where stream_id = 'urn:device:a' limit 1
            """);

        await older.ReplaceAsync(ServiceProcess.Sound);
        Assert.Equal(1, (await device.TellAsync(Facts.BoxSealed())).Recorded);
        await Task.Delay(TimeSpan.FromSeconds(3), TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.NotFound, (await organisation.Office.GetAsync("/v1/boxes/box-1")).Status);
        Assert.InRange((int)(await older.Anybody.GetAsync("/health/ready")).Json["projectionBehind"]!, 2, 100);
        Assert.Contains("column fl_state of_version_99 text may be left out", await ObjectsAsync());

        await older.ReplaceAsync(ServiceProcess.Poisoned);
        await older.CaughtUpAsync();
        Assert.Equal(HttpStatusCode.OK, (await organisation.Office.GetAsync("/v1/boxes/box-1")).Status);
    }

    private Task<List<string>> ObjectsAsync() => Sql.ReadAsync<string>(database.ConnectionString,
        """
        select 'column ' || table_name || ' ' || column_name || ' ' || data_type
               || case when is_nullable = 'YES' or column_default is not null then ' may be left out' else '' end
        from information_schema.columns where table_schema = 'fleetlight'
        union all select 'function ' || p.proname || '(' || pg_get_function_identity_arguments(p.oid) || ')'
        from pg_proc as p join pg_namespace as n on n.oid = p.pronamespace where n.nspname = 'fleetlight'
        union all select 'sequence ' || sequence_name from information_schema.sequences where sequence_schema = 'fleetlight'
        """);

    // The bytes of every photo that is in hand are those that its name says.
    private static async Task PicturesAsync(ApiClient office)
    {
        string[] digests = [.. (await States.AllAsync(office, "/v1/photos")).Where(photo => (bool)photo["inHand"]!).Select(photo => (string)photo["sha256"]!)];
        Assert.NotEmpty(digests);
        foreach (string digest in digests)
        {
            using HttpResponseMessage got = await office.StartAsync(HttpMethod.Get, $"/v1/attachments/{digest}");
            Assert.Equal(digest, Convert.ToHexStringLower(SHA256.HashData(await got.Content.ReadAsByteArrayAsync())));
        }
    }

    // A rebuild judges anew, by the version that runs: the figures behind the verdicts are there again.
    private static string Brief(JsonNode circuit) => string.Join('\n',
        circuit["lastReadings"]!.AsArray().Select(reading => $"{reading!["fact"]} {reading["value"]} {reading["verdict"]}")
            .Append($"{circuit["phase"]} {circuit["verdict"]} {circuit["facts"]?.ToJsonString()}"));

    // An answer may have more members than it had, and says the same in those it had.
    private static void Holds(string[] then, List<string> now)
    {
        Assert.Equal(then.Length, now.Count);
        for (int line = 0; line < then.Length; line++)
        {
            (int at, int nowAt) = (then[line].IndexOfAny(['{', '[']), now[line].IndexOfAny(['{', '[']));
            Assert.Equal(then[line][..at], now[line][..nowAt]);
            Assert.True(Holds(JsonNode.Parse(then[line][at..]), JsonNode.Parse(now[line][nowAt..])), $"was: {then[line]}\nis:  {now[line]}");
        }
    }

    // Of what an earlier version of the models judged, the verdict and the version stand; the figures were not kept.
    private static readonly string[] NotKept = ["expected", "why", "probabilityAsDesigned"];

    private static bool Stands(JsonObject was, JsonObject has) => was["verdict"] is not null && was["modelVersion"] is not null
        && Stands(has["why"]);

    private static bool Stands(JsonNode? why) => why is JsonValue text && text.TryGetValue(out string? said)
        && said.Contains("of the models; that stands.", StringComparison.Ordinal);

    // A role may allow what came with a later version, and allows all that it did.
    private static bool Allows(JsonArray then, JsonNode now) =>
        !then.Select(scope => (string?)scope).Except(now.AsArray().Select(scope => (string?)scope)).Any();

    private static bool Holds(JsonNode? then, JsonNode? now) => (then, now) switch
    {
        (JsonObject was, JsonObject has) when Stands(was, has) =>
            was.All(member => NotKept.Contains(member.Key) || Holds(member.Value, has[member.Key])),
        (JsonObject was, JsonObject has) => was.All(member => has.ContainsKey(member.Key)
            && (member is { Key: "scopes", Value: JsonArray scopes } ? Allows(scopes, has["scopes"]!) : Holds(member.Value, has[member.Key]))),
        (JsonArray was, JsonArray has) => was.Count == has.Count && was.Zip(has).All(pair => Holds(pair.First, pair.Second)),
        _ => JsonNode.DeepEquals(then, now) || (then is JsonValue && Stands(now)),
    };
}

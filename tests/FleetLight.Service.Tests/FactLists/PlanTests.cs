using FleetLight.Service.FactLists;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Service.Tests.Works;
using FleetLight.Testing.Service;
using Npgsql;
using Xunit;

namespace FleetLight.Service.Tests.FactLists;

/// <summary>
/// What PostgreSQL does for a page of a list of facts among 200,000, by its own plan, under its usual settings: it walks an index
/// and looks into no more rows than the page has, and reads no table from end to end.
/// </summary>
public sealed class PlanTests(PlanTests.Full full) : IClassFixture<PlanTests.Full>
{
    public static TheoryData<string, FactListOrder, bool> Pages => new()
    {
        { "*", FactListOrder.Recorded, false },
        { "*", FactListOrder.Recorded, true },
        { "*", FactListOrder.Happened, true },
        { "of-site:site-7", FactListOrder.Recorded, false },
        { "of-site:site-7", FactListOrder.Recorded, true },
        { "of-site:site-7", FactListOrder.Happened, true },
        { "circuit:k-7-1", FactListOrder.Recorded, true },
        { "circuit:k-7-1", FactListOrder.Happened, false },
    };

    [Theory]
    [MemberData(nameof(Pages))]
    public async Task A_page_is_read_along_an_index(string list, FactListOrder order, bool goesOn)
    {
        FactCursor after = FactCursor.Start(order, 0);
        if (goesOn) after = after with { Place = order == FactListOrder.Recorded ? 100_000 : 1_770_000_000_000_000, EventId = Guid.NewGuid() };
        (string sql, object[] values) = FactQuery.Statement(full.Organisation, new FactWish(list, order), after, 101);

        string[] plan = await full.ExplainAsync(sql, values);

        Assert.DoesNotContain(plan, line => line.Contains("Seq Scan", StringComparison.Ordinal) || line.Contains("Sort", StringComparison.Ordinal));
        Assert.Contains(plan, line => line.Contains("Index", StringComparison.Ordinal) && line.Contains("fl_fact", StringComparison.Ordinal));
        Assert.DoesNotContain(plan, line => line.Contains("Rows Removed", StringComparison.Ordinal));
    }

    [Fact]
    public async Task The_facts_themselves_are_found_by_their_ids()
    {
        Guid[] ids = [.. (await full.QueryAsync<Guid>("select id from fleetlight.mt_events where tenant_id = $1 order by random() limit 100", full.Organisation))];

        string[] plan = await full.ExplainAsync(FactQuery.ById, [full.Organisation, ids]);

        Assert.Contains(plan, line => line.Contains("Index", StringComparison.Ordinal) && line.Contains("mt_events", StringComparison.Ordinal));
        Assert.DoesNotContain(plan, line => line.Contains("Seq Scan", StringComparison.Ordinal));
    }

    /// <summary>A database with 200,000 events on 500 sites, made by SQL, as a projection of them would leave it.</summary>
    public sealed class Full : FleetService
    {
        public string Organisation { get; private set; } = "";

        public override async ValueTask InitializeAsync()
        {
            await base.InitializeAsync();
            Organisation organisation = await AddOrganisationAsync();
            Organisation = organisation.Name;
            Site site = new(this, organisation, await organisation.AddDeviceAsync());
            await site.TellAsync(Some.SiteOpened());
            // As one that was recorded, 200,000 times; under numbers far beyond, so that the projection leaves them alone.
            await using NpgsqlConnection connection = new(ConnectionString + ";Command Timeout=0");
            await connection.OpenAsync();
            await using NpgsqlCommand fill = new(
                """
                with made as (
                  insert into fleetlight.mt_events (seq_id, id, stream_id, version, data, type, timestamp, tenant_id, mt_dotnet_type)
                  select 1000000 + n, gen_random_uuid(), stream_id, 1000 + n, data, type, timestamp, tenant_id, mt_dotnet_type
                  from fleetlight.mt_events, generate_series(1, 200000) as n
                  where tenant_id = $1 and type = 'fleetlight.site.opened.v1' returning seq_id, id)
                , listed as (
                  insert into fleetlight.fl_fact (tenant_id, list, happened_at, event_id, position, source, type, site_id)
                  select $1, l.list, timestamptz '2026-01-01' + (seq_id % 17000000) * interval '1 minute' / 3, id, seq_id - 1000000, 'urn:device:a',
                         'fleetlight.reading.taken.v1', 'site-' || seq_id % 500
                  from made, lateral (values ('*'), ('of-site:site-' || seq_id % 500), ('circuit:k-' || seq_id % 500 || '-' || seq_id / 500 % 40)) as l(list)
                  returning 1)
                select count(*) from listed
                """, connection);
            fill.Parameters.Add(new NpgsqlParameter { Value = Organisation });
            Assert.Equal(600_000L, await fill.ExecuteScalarAsync());
            await using NpgsqlCommand analyze = new("analyze fleetlight.fl_fact; analyze fleetlight.mt_events", connection);
            await analyze.ExecuteNonQueryAsync();
        }

        /// <summary>The plan, as it was carried out.</summary>
        public async Task<string[]> ExplainAsync(string sql, object[] values)
        {
            await using NpgsqlConnection connection = new(ConnectionString + ";Search Path=fleetlight");
            await connection.OpenAsync();
            await using NpgsqlCommand command = new("explain (analyze, buffers) " + sql, connection);
            foreach (object value in values) command.Parameters.Add(new NpgsqlParameter { Value = value });
            await using NpgsqlDataReader reader = await command.ExecuteReaderAsync();
            List<string> lines = [];
            while (await reader.ReadAsync()) lines.Add(reader.GetString(0));
            return [.. lines];
        }
    }
}

using FleetLight.Contracts.Views;
using FleetLight.Service.Ledger;
using FleetLight.Service.Store;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Npgsql;
using Xunit;

namespace FleetLight.Service.Tests.Ledger;

/// <summary>What stands in a ledger, the database itself keeps.</summary>
public sealed class LedgerGuardTests(FleetService service) : IClassFixture<FleetService>
{
    // So many that nodes are kept beside the leaves.
    private const int Facts = 600;

    public static TheoryData<string> Guarded => [.. LedgerGuard.Tables];

    [Theory]
    [MemberData(nameof(Guarded))]
    public async Task No_statement_changes_or_removes_a_row(string table)
    {
        Organisation own = await WithLedgerAsync();
        long rows = await CountAsync(table);
        Assert.True(rows > 0);
        string column = table switch { "fl_ledger_checkpoint" => "root", "fl_ledger_export" => "sha256", "fl_ledger_key" => "x", _ => "hash" };
        foreach (string sql in (string[])[$"update fleetlight.{table} set {column} = ''", $"delete from fleetlight.{table}", $"truncate fleetlight.{table}"])
        {
            PostgresException refused = await Assert.ThrowsAsync<PostgresException>(() => service.QueryAsync<object>(sql));
            Assert.Equal(PostgresErrorCodes.RestrictViolation, refused.SqlState);
        }

        Assert.Equal(rows, await CountAsync(table));
        // And the ledger goes on.
        Device device = await own.AddDeviceAsync();
        await device.TellAsync(Some.Reading(2));
        Assert.Equal(Facts + 1, (await own.Office.PostAsync("/v1/ledger/checkpoint")).As<CheckpointView>().Size);
    }

    [Fact]
    public async Task Only_what_is_said_to_have_moved_away_is_taken_out()
    {
        Organisation own = await WithLedgerAsync(), other = await WithLedgerAsync();

        await Assert.ThrowsAsync<PostgresException>(() => service.QueryAsync<object>(
            $"select set_config('{LedgerGuard.MovedAway}', '{own.Name}', true); delete from fleetlight.fl_ledger_leaf where tenant_id in ('{own.Name}', '{other.Name}')"));
        await Assert.ThrowsAsync<PostgresException>(() => service.QueryAsync<object>(
            $"select set_config('{LedgerGuard.MovedAway}', '{own.Name}', true); update fleetlight.fl_ledger_leaf set hash = '' where tenant_id = '{own.Name}'"));
        await service.QueryAsync<object>(
            $"select set_config('{LedgerGuard.MovedAway}', '{own.Name}', true); delete from fleetlight.fl_ledger_leaf where tenant_id = '{own.Name}'");

        Assert.Equal(0, await CountAsync("fl_ledger_leaf", own.Name));
        Assert.Equal(Facts, await CountAsync("fl_ledger_leaf", other.Name));
        // It holds for that transaction only.
        await Assert.ThrowsAsync<PostgresException>(() => service.QueryAsync<object>($"delete from fleetlight.fl_ledger_node where tenant_id = '{own.Name}'"));
    }

    [Fact]
    public async Task A_start_leaves_guard_and_index_as_they_are()
    {
        await using FleetService again = new();
        await again.InitializeAsync();
        const string made =
            """
            select string_agg(oid::text, ' ' order by oid)
            from (select oid from pg_trigger where tgname like 'fl_ledger%' union all select $1::regclass::oid) as made
            """;
        string before = (await again.QueryAsync<string>(made, $"fleetlight.{EventIndex.Name}"))[0];
        Assert.Equal((2 * LedgerGuard.Tables.Length) + 1, before.Split(' ').Length);
        await again.RestartAsync();
        Assert.Equal(before, (await again.QueryAsync<string>(made, $"fleetlight.{EventIndex.Name}"))[0]);
    }

    private async Task<Organisation> WithLedgerAsync()
    {
        Organisation own = await service.AddOrganisationAsync();
        Device device = await own.AddDeviceAsync();
        await device.TellAsync([.. Enumerable.Range(0, Facts).Select(number => Some.Reading(number))]);
        await own.Office.PostAsync("/v1/ledger/checkpoint");
        // With its digest, once.
        await own.Office.GetAsync("/v1/export/manifest");
        return own;
    }

    private async Task<long> CountAsync(string table, string? organisation = null) => organisation is null
        ? (await service.QueryAsync<long>($"select count(*) from fleetlight.{table}"))[0]
        : (await service.QueryAsync<long>($"select count(*) from fleetlight.{table} where tenant_id = $1", organisation))[0];
}

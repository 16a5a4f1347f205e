using FleetLight.Service.Access;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Npgsql;
using Xunit;

namespace FleetLight.Service.Tests.Access;

public sealed class SecretTests(FleetService service) : IClassFixture<FleetService>
{
    [Fact]
    public async Task Nothing_in_the_database_and_no_log_line_holds_a_key_that_was_made_and_used()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        await device.TellAsync(Some.SiteOpened());
        await service.CaughtUpAsync();
        string[] secrets = [.. new[] { service.Host.Key!, organisation.Office.Key!, device.Api.Key! }.Select(key => key.Split('.')[1])];

        string database = await DumpAsync();

        Assert.Contains(device.Api.Key!.Split('.')[0], database, StringComparison.Ordinal);
        Assert.Contains(KeyText.Hash(device.Api.Key!), database, StringComparison.Ordinal);
        foreach (string secret in secrets)
        {
            Assert.DoesNotContain(secret, database, StringComparison.OrdinalIgnoreCase);
            Assert.DoesNotContain(service.Log.All, line => line.Text.Contains(secret, StringComparison.Ordinal));
        }
    }

    [Fact]
    public async Task A_key_is_shown_once_when_it_is_made_and_never_listed()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        string key = await organisation.MakeKeyAsync("read-status");

        Answer listed = await organisation.Office.GetAsync("/v1/keys");

        Assert.Contains(key.Split('.')[0], listed.Text, StringComparison.Ordinal);
        Assert.DoesNotContain(key.Split('.')[1], listed.Text, StringComparison.Ordinal);
        Assert.DoesNotContain(KeyText.Hash(key), listed.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_keys_share_nothing()
    {
        (string Id, string Text)[] keys = [.. Enumerable.Range(0, 100).Select(_ => KeyText.Make())];

        Assert.Equal(100, keys.Select(key => key.Id).Distinct().Count());
        Assert.All(keys, key => Assert.Equal(43, key.Text.Split('.')[1].Length));
        Assert.Equal(100, keys.Select(key => key.Text.Split('.')[1]).Distinct().Count());
    }

    // Every column of every table, as text.
    private async Task<string> DumpAsync()
    {
        List<string> tables = await service.QueryAsync<string>(
            "select quote_ident(schemaname) || '.' || quote_ident(tablename) from pg_tables where schemaname not in ('pg_catalog', 'information_schema')");
        Assert.NotEmpty(tables);
        await using NpgsqlDataSource source = NpgsqlDataSource.Create(service.ConnectionString);
        List<string> dump = [];
        foreach (string table in tables)
        {
            await using NpgsqlCommand command = source.CreateCommand($"select coalesce(string_agg(t::text, chr(10)), '') from {table} as t");
            dump.Add((string)(await command.ExecuteScalarAsync())!);
        }

        return string.Join('\n', dump);
    }
}

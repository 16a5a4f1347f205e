using Npgsql;
using Xunit;

namespace FleetLight.Service.Tests.Hosting;

/// <summary>All that a database holds.</summary>
internal static class Rows
{
    /// <summary>Every column of every table, as text.</summary>
    public static async Task<string> AllAsync(FleetService service)
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

using Npgsql;

namespace FleetLight.Endurance.Tests.Hosting;

/// <summary>Looks into a database past the service.</summary>
internal static class Sql
{
    /// <summary>The first column of the rows.</summary>
    public static async Task<List<T>> ReadAsync<T>(string connection, string sql, params object[] values)
    {
        await using NpgsqlConnection opened = new(connection);
        await opened.OpenAsync();
        await using NpgsqlCommand command = new(sql, opened) { CommandTimeout = 60 };
        foreach (object value in values) command.Parameters.Add(new NpgsqlParameter { Value = value });
        await using NpgsqlDataReader reader = await command.ExecuteReaderAsync();
        List<T> rows = [];
        while (await reader.ReadAsync()) rows.Add(await reader.GetFieldValueAsync<T>(0));
        return rows;
    }

    /// <summary>Every fact in the store, as <c>organisation source#id</c>.</summary>
    /// <param name="connection">The database.</param>
    /// <param name="join">A table that it has to be in as well, joined to the events <c>e</c>.</param>
    public static Task<List<string>> FactsAsync(string connection, string join = "") => ReadAsync<string>(
        connection,
        $"select e.tenant_id || ' ' || (data -> 'of' ->> 'source') || '#' || (data -> 'of' ->> 'id') from fleetlight.mt_events as e {join} where data ? 'of'");
}

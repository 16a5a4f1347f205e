using FleetLight.Faults.Tests.Nodes;
using Npgsql;

namespace FleetLight.Faults.Tests.Load;

/// <summary>What became of the facts of a load, counted in the database and not by the service.</summary>
/// <param name="Sent">Facts that were sent at least once.</param>
/// <param name="Receipted">Facts that have a receipt.</param>
/// <param name="Found">Facts that stand in the database.</param>
/// <param name="Lost">Facts that have a receipt and do not stand in the database.</param>
/// <param name="Doubled">Rows beyond the first of a fact.</param>
internal sealed record Account(int Sent, int Receipted, int Found, int Lost, int Doubled)
{
    /// <summary>Nothing yet.</summary>
    public static Account None { get; } = new(0, 0, 0, 0, 0);

    /// <summary>Both together.</summary>
    public static Account operator +(Account left, Account right) => new(
        left.Sent + right.Sent, left.Receipted + right.Receipted, left.Found + right.Found, left.Lost + right.Lost, left.Doubled + right.Doubled);

    /// <summary>Waits for the projection, counts, and checks what must hold after every fault.</summary>
    /// <param name="load">What was sent; it has to be finished.</param>
    /// <param name="node">A node that answers.</param>
    /// <param name="database">The database.</param>
    public static async Task<Account> CloseAsync(FleetLoad load, ServiceNode node, string database)
    {
        await node.CaughtUpAsync();
        List<string> rows = await QueryAsync(
            database,
            $"select data -> 'of' ->> 'id' from fleetlight.mt_events where data -> 'of' is not null and tenant_id = '{load.Organisation.Name}'");
        HashSet<string> found = [.. rows];
        HashSet<string> receipted = [.. load.Devices.SelectMany(device => device.Receipted)];
        Account account = new(
            load.Devices.Sum(device => device.Sent), receipted.Count, found.Count, receipted.Except(found).Count(), rows.Count - found.Count);

        Assert.Empty(load.Devices.SelectMany(device => device.Oddities));
        Assert.Equal((0, 0), (account.Lost, account.Doubled));
        Assert.Equal((account.Sent, account.Sent), (account.Receipted, account.Found));
        Assert.Equal(0, node.Surprises);
        Assert.Equal(["0"], await QueryAsync(database, "select count(*)::text from fleetlight.mt_doc_deadletterevent"));
        // An alert of a box without gel is never cleared here, so one that was raised twice was told twice.
        Assert.Empty(await QueryAsync(
            database,
            "select stream_id from fleetlight.mt_events where type = 'fleetlight.alert.raised.v1' group by tenant_id, stream_id "
            + "having count(*) > 1 and stream_id in (select stream_id from fleetlight.mt_events where data ->> 'rule' = 'ground-box-not-gel-filled')"));
        return account;
    }

    /// <summary>Reads a column of text past the service.</summary>
    public static async Task<List<string>> QueryAsync(string database, string sql)
    {
        await using NpgsqlConnection connection = new(database + ";Pooling=false");
        await connection.OpenAsync();
        await using NpgsqlCommand command = new(sql, connection);
        await using NpgsqlDataReader reader = await command.ExecuteReaderAsync();
        List<string> rows = [];
        while (await reader.ReadAsync()) rows.Add(reader.GetString(0));
        return rows;
    }
}

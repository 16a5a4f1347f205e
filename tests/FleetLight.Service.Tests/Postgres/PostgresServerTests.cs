using FleetLight.Testing.Postgres;
using Npgsql;
using Xunit;

namespace FleetLight.Service.Tests.Postgres;

public sealed class PostgresServerTests
{
    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Fact]
    public async Task The_server_answers()
    {
        await using TestDatabase database = await TestDatabase.CreateAsync(Cancellation);

        Assert.StartsWith("PostgreSQL ", await AskAsync(database, "select version()"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("fsync", "on")]
    [InlineData("synchronous_commit", "on")]
    [InlineData("full_page_writes", "on")]
    [InlineData("timezone", "UTC")]
    [InlineData("server_encoding", "UTF8")]
    public async Task The_server_keeps_what_it_was_told_as_the_real_one_does(string setting, string value)
    {
        await using TestDatabase database = await TestDatabase.CreateAsync(Cancellation);

        Assert.Equal(value, await AskAsync(database, $"show {setting}"));
    }

    [Fact]
    public async Task Two_databases_know_nothing_of_each_other()
    {
        await using TestDatabase one = await TestDatabase.CreateAsync(Cancellation);
        await using TestDatabase other = await TestDatabase.CreateAsync(Cancellation);

        await AskAsync(one, "create table lamps (id int)");

        Assert.Equal("lamps", await AskAsync(one, "select to_regclass('lamps')::text"));
        Assert.Null(await AskAsync(other, "select to_regclass('lamps')::text"));
    }

    [Fact]
    public async Task A_database_is_dropped_even_while_a_connection_to_it_is_open()
    {
        await using TestDatabase watching = await TestDatabase.CreateAsync(Cancellation);
        TestDatabase dropped = await TestDatabase.CreateAsync(Cancellation);
        await using NpgsqlConnection open = new(dropped.ConnectionString);
        await open.OpenAsync(Cancellation);

        await dropped.DisposeAsync();

        Assert.Null(await AskAsync(watching, $"select datname from pg_database where datname = '{dropped.Name}'"));
    }

    private static async Task<string?> AskAsync(TestDatabase database, string sql)
    {
        await using NpgsqlConnection connection = new(database.ConnectionString);
        await connection.OpenAsync(Cancellation);
        await using NpgsqlCommand command = new(sql, connection);
        return await command.ExecuteScalarAsync(Cancellation) as string;
    }
}

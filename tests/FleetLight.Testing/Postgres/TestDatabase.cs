using System.Globalization;
using Npgsql;

namespace FleetLight.Testing.Postgres;

/// <summary>A fresh, empty database on the <see cref="PostgresServer"/>, gone when disposed of.</summary>
public sealed class TestDatabase : IAsyncDisposable
{
    private readonly string _server;

    private TestDatabase(string server, string name)
    {
        _server = server;
        Name = name;
        ConnectionString = new NpgsqlConnectionStringBuilder(server) { Database = name }.ConnectionString;
    }

    /// <summary>The name of the database, which no other has.</summary>
    public string Name { get; }

    /// <summary>How to connect to the database.</summary>
    public string ConnectionString { get; }

    /// <summary>Makes a database.</summary>
    public static Task<TestDatabase> CreateAsync(CancellationToken cancellation = default) => MakeAsync("", cancellation);

    /// <summary>Makes a database that is a copy of another, to which nobody is connected.</summary>
    public static Task<TestDatabase> CreateAsync(TestDatabase like, CancellationToken cancellation = default) => MakeAsync($" template {like.Name}", cancellation);

    private static async Task<TestDatabase> MakeAsync(string how, CancellationToken cancellation)
    {
        string server = await PostgresServer.GetConnectionStringAsync(cancellation).ConfigureAwait(false);
        string name = string.Create(CultureInfo.InvariantCulture, $"test_{Guid.NewGuid():N}");
        await ExecuteAsync(server, $"create database {name}{how}", cancellation).ConfigureAwait(false);
        return new TestDatabase(server, name);
    }

    /// <summary>
    /// Commits in it no longer wait for the disk, whoever connects from now on: for tests that say nothing of what outlives a crash.
    /// </summary>
    public Task DoNotWaitForTheDiskAsync() => ExecuteAsync(_server, $"alter database {Name} set synchronous_commit = off", CancellationToken.None);

    /// <summary>Drops the database, whoever is still connected to it.</summary>
    public async ValueTask DisposeAsync()
    {
        await using (NpgsqlConnection pooled = new(ConnectionString))
            NpgsqlConnection.ClearPool(pooled);
        await ExecuteAsync(_server, $"drop database if exists {Name} with (force)", CancellationToken.None)
            .ConfigureAwait(false);
    }

    private static async Task ExecuteAsync(string server, string sql, CancellationToken cancellation)
    {
        await using NpgsqlConnection connection = new(server);
        await connection.OpenAsync(cancellation).ConfigureAwait(false);
        await using NpgsqlCommand command = new(sql, connection);
        await command.ExecuteNonQueryAsync(cancellation).ConfigureAwait(false);
    }
}

using DotNet.Testcontainers.Configurations;
using Npgsql;
using Testcontainers.PostgreSql;

namespace FleetLight.Testing.Postgres;

/// <summary>
/// The one PostgreSQL server of this test process: the one named by FLEETLIGHT_TEST_POSTGRES, else a container
/// that starts with the first test that asks and ends with the process.
/// </summary>
public static class PostgresServer
{
    /// <summary>The image of the container. <c>tests/run</c> reads it here, so it is named nowhere else.</summary>
    public const string Image = "postgres:17-alpine";

    /// <summary>The environment variable with the connection string of a server to use instead of a container.</summary>
    public const string Variable = "FLEETLIGHT_TEST_POSTGRES";

    // A failure is kept like a success: with no server, every test says so at once instead of trying for minutes.
    private static readonly Lazy<Task<string>> Server = new(StartAsync);

    /// <summary>The connection string of a role that may create databases.</summary>
    public static Task<string> GetConnectionStringAsync(CancellationToken cancellation = default) =>
        Server.Value.WaitAsync(cancellation);

    private static async Task<string> StartAsync()
    {
        string? given = Environment.GetEnvironmentVariable(Variable);
        if (!string.IsNullOrWhiteSpace(given))
            return given;

        // The builder's own arguments switch durability off. They are replaced, not added to: what tests say about
        // facts that survive a kill must be said of a server that writes as the real one does.
        PostgreSqlContainer container = new PostgreSqlBuilder(Image)
            .WithCommand(new OverwriteEnumerable<string>(["-c", "timezone=UTC", "-c", "max_connections=300"]))
            .Build();
        await container.StartAsync().ConfigureAwait(false);
        return new NpgsqlConnectionStringBuilder(container.GetConnectionString()) { IncludeErrorDetail = true }
            .ConnectionString;
    }
}

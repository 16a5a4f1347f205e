using FleetLight.Service.Access;
using FleetLight.Service.Circuits;
using FleetLight.Testing.Postgres;
using FleetLight.Testing.Service;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;
using Xunit;

namespace FleetLight.Service.Tests.Hosting;

/// <summary>
/// A service with a database of its own, for the tests of one class. Each test takes an organisation of its own: what one
/// organisation does, another never sees.
/// </summary>
public class FleetService : IAsyncLifetime
{
    private readonly DirectoryInfo dataFolder = Directory.CreateTempSubdirectory("fleetlight-tests-");
    private TestDatabase? database;
    private RunningService? running;
    private string? hostKey;

    /// <summary>A service whose clock shows what test clocks show.</summary>
    public FleetService()
        : this(TestClock.Start)
    {
    }

    /// <summary>A service whose clock shows that time.</summary>
    protected FleetService(DateTimeOffset start) => Clock = new TestClock(start);

    /// <summary>Its wall clock. Leave it alone where tests of the class run beside each other.</summary>
    public TestClock Clock { get; }

    /// <summary>What it logged.</summary>
    public LogLines Log { get; } = new();

    /// <summary>Calls without a key.</summary>
    public ApiClient Anybody => Running.Api;

    /// <summary>Calls with the first key, which may make keys for every organisation.</summary>
    public ApiClient Host => Running.Api.With(hostKey);

    /// <summary>Where it leaves its first key.</summary>
    public string FirstKeyFile => Path.Combine(dataFolder.FullName, FirstKey.FileName);

    /// <summary>Its database.</summary>
    public string ConnectionString => database!.ConnectionString;

    /// <summary>How the service itself connects to its database.</summary>
    protected virtual string ServiceConnectionString => ConnectionString;

    /// <summary>Its settings over those of every test.</summary>
    protected virtual IEnumerable<KeyValuePair<string, string?>> Settings => [];

    /// <summary>The running service.</summary>
    public RunningService Running => running ?? throw new InvalidOperationException("The service does not run.");

    /// <inheritdoc/>
    public virtual async ValueTask InitializeAsync()
    {
        database = await EmptyTables.CopyAsync();
        await StartAsync();
        hostKey = (await File.ReadAllTextAsync(FirstKeyFile)).Trim();
    }

    /// <summary>An organisation of one's own.</summary>
    public Task<Organisation> AddOrganisationAsync(string? name = null) => Organisation.CreateAsync(Host, name);

    /// <summary>Waits until the projection has taken in all that is in the store, and every read shows it.</summary>
    public async Task CaughtUpAsync()
    {
        await Eventually.ReadAsync(
            async () => (await Anybody.GetAsync("/health/ready")).Text,
            text => text.Contains("\"projectionBehind\":0", StringComparison.Ordinal),
            "the projection to take in all that is in the store");

        // The feed is about to throw these states away; whether it does is for the tests that poll.
        StatusCache remembered = Running.Services.GetRequiredService<StatusCache>();
        remembered.Pause();
        remembered.Resume(0);
    }

    /// <summary>Ends the service and starts it again on the same database.</summary>
    public async Task RestartAsync()
    {
        await StopAsync();
        await StartAsync();
    }

    /// <summary>Starts the service.</summary>
    public async Task StartAsync() => running = await StartSecondAsync();

    /// <summary>Starts one more service on the same database, as a second node.</summary>
    public Task<RunningService> StartSecondAsync() =>
        RunningService.StartAsync(ServiceConnectionString, dataFolder.FullName, Clock, Log, Configure, Settings);

    /// <summary>Ends the service.</summary>
    public async Task StopAsync()
    {
        await Running.DisposeAsync();
        running = null;
    }

    /// <summary>Reads rows of the database, past the service.</summary>
    public async Task<List<T>> QueryAsync<T>(string sql, params object[] values)
    {
        await using NpgsqlConnection connection = new(ConnectionString);
        await connection.OpenAsync();
        await using NpgsqlCommand command = new(sql, connection);
        foreach (object value in values) command.Parameters.Add(new NpgsqlParameter { Value = value });
        await using NpgsqlDataReader reader = await command.ExecuteReaderAsync();
        List<T> rows = [];
        while (await reader.ReadAsync()) rows.Add(await reader.GetFieldValueAsync<T>(0));
        return rows;
    }

    /// <inheritdoc/>
    public virtual async ValueTask DisposeAsync()
    {
        GC.SuppressFinalize(this);
        if (running is not null) await running.DisposeAsync();
        if (database is not null) await database.DisposeAsync();
        dataFolder.Delete(recursive: true);
        Log.Dispose();

        // Whatever the tests sent, nothing may surprise the service; this fails the class and not one of its tests.
        Assert.DoesNotContain(Log.All, line => line.Text == "Unexpected fault");
    }

    /// <summary>Changes what the service is made of.</summary>
    protected virtual void Configure(IServiceCollection services)
    {
    }
}

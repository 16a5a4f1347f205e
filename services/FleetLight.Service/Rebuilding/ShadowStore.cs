using FleetLight.Service.Circuits;
using FleetLight.Service.Store;
using FleetLight.Service.Works;
using JasperFx;
using JasperFx.Events.Projections;
using Marten;
using Npgsql;

namespace FleetLight.Service.Rebuilding;

/// <summary>
/// The store as a rebuild sees it: the same events, and tables of states of its own in a schema that is looked at first. The
/// projection runs on it in silence, from the first event on, while the running service goes on with the states that it has.
/// </summary>
public sealed class ShadowStore : IAsyncDisposable
{
    /// <summary>Where the new states are built.</summary>
    public const string Schema = Tables.Schema + "_rebuild";

    /// <summary>Name of the projection here, so that its place in the store is its own.</summary>
    public const string Name = WorksProjection.Name + "-rebuild";

    private readonly NpgsqlDataSource database;
    private readonly BasisCache cache = new();

    private ShadowStore(string connectionString, WorksWatch watch, ILogger<WorksProjection> log)
    {
        database = MartenSetup.Database(connectionString, $"{Schema},{Tables.Schema}");
        var works = new WorksProjection(new PageParts(database, cache, new WorksFolds(), watch, IsSilent: true), watch.Metrics, log);
        Documents = DocumentStore.For(options =>
        {
            options.Connection(database);
            MartenSetup.Configure(options);
            options.Schema.For<AlertDocument>().DatabaseSchemaName(Schema);
            foreach (var table in Tables.StatesIn(Schema)) options.Storage.ExtendedSchemaObjects.Add(table);
            options.Projections.Add(works, ProjectionLifecycle.Async, Name, projection => projection.BatchSize = 10_000);
        });
    }

    /// <summary>The store.</summary>
    public DocumentStore Documents { get; }

    /// <summary>Makes empty tables beside those in use.</summary>
    public static async Task<ShadowStore> MakeAsync(
        string connectionString, NpgsqlConnection connection, WorksWatch watch, ILogger<WorksProjection> log, CancellationToken cancel)
    {
        await DropAsync(connection, cancel);
        var shadow = new ShadowStore(connectionString, watch, log);
        try
        {
            await shadow.Documents.Storage.ApplyAllConfiguredChangesToDatabaseAsync(AutoCreate.CreateOrUpdate);
            await using var whole = new NpgsqlCommand($"insert into {Schema}.fl_facts_whole (one) values (true)", connection);
            await whole.ExecuteNonQueryAsync(cancel);
            return shadow;
        }
        catch
        {
            await shadow.DisposeAsync();
            throw;
        }
    }

    /// <summary>Takes the tables away, as after a rebuild that was broken off.</summary>
    public static async Task DropAsync(NpgsqlConnection connection, CancellationToken cancel)
    {
        await using var command = new NpgsqlCommand(
            $"drop schema if exists {Schema} cascade; delete from {Tables.Schema}.mt_event_progression where name like '{Name}:%'", connection);
        await command.ExecuteNonQueryAsync(cancel);
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await Documents.DisposeAsync();
        cache.Dispose();
        await database.DisposeAsync();
    }
}

using System.Threading.Channels;
using FleetLight.Service.Store;
using Marten;
using Marten.Events.Daemon.HighWater;
using Npgsql;

namespace FleetLight.Service.Intake;

/// <summary>
/// The store as the intake appends to it: the same as the service's, but that an append does not notify the daemon. A
/// notification inside the transaction locks every commit against every other; <see cref="DaemonNudge"/> sends it
/// afterwards and for many batches at once.
/// </summary>
public sealed class AppendStore : IDisposable
{
    /// <summary>Opens it on the service's database, whose tables the service's own store looks after.</summary>
    public AppendStore(NpgsqlDataSource database) => Documents = DocumentStore.For(options =>
    {
        options.Connection(database);
        MartenSetup.Configure(options);
        options.Events.UseListenNotifyForEventAppends = false;
    });

    /// <summary>The store.</summary>
    public IDocumentStore Documents { get; }

    /// <inheritdoc/>
    public void Dispose() => Documents.Dispose();
}

/// <summary>Tells the daemon, on whichever node it runs, that events were appended: at once, but not more often than it can use.</summary>
public sealed class DaemonNudge(NpgsqlDataSource database, ILogger<DaemonNudge> log) : BackgroundService
{
    private static readonly TimeSpan AtMostEvery = TimeSpan.FromMilliseconds(12);

    // One place is enough: being told twice before looking is being told once.
    private readonly Channel<bool> appended = Channel.CreateBounded<bool>(new BoundedChannelOptions(1) { FullMode = BoundedChannelFullMode.DropWrite });

    /// <summary>Events were appended.</summary>
    public void Appended() => appended.Writer.TryWrite(true);

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        try
        {
            while (true)
            {
                await appended.Reader.ReadAsync(stoppingToken);
                await NotifyAsync(stoppingToken);
                await Task.Delay(AtMostEvery, stoppingToken);
            }
        }
        catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
        {
            // The service ends.
        }
    }

    private async Task NotifyAsync(CancellationToken cancel)
    {
        try
        {
            await using var command = database.CreateCommand($"notify {PostgresqlListenWakeup.DefaultChannel}");
            await command.ExecuteNonQueryAsync(cancel);
        }
        catch (NpgsqlException failed)
        {
            // The daemon looks by itself before long.
            log.LogDebug(failed, "The daemon could not be told of appended events");
        }
    }
}

using FleetLight.Service.Circuits;
using FleetLight.Service.Works;
using Npgsql;
using IProjectionCoordinator = Marten.Events.Daemon.Coordination.IProjectionCoordinator;

namespace FleetLight.Service.Rebuilding;

/// <summary>
/// Hears on this node that states were built again: what is remembered of the old ones is thrown away, and the projection, if
/// it runs here, is started anew, for its place in the store is another now.
/// </summary>
public sealed class ChangeOver(NpgsqlDataSource database, StatusCache cache, IProjectionCoordinator coordinator, ILogger<ChangeOver> log) : BackgroundService
{
    /// <summary>Channel on which a rebuild says that its states are in use.</summary>
    public const string Channel = "fleetlight_rebuilt";

    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(1);

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        while (!stoppingToken.IsCancellationRequested)
        {
            try
            {
                await ListenAsync(stoppingToken);
            }
            catch (Exception lost) when (!Poison.Is(lost, stoppingToken))
            {
                if (stoppingToken.IsCancellationRequested) return;
                log.LogDebug(lost, "Whether states are built again cannot be heard; trying again");
                await Task.Delay(Pause, stoppingToken).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
            }
        }
    }

    private async Task ListenAsync(CancellationToken cancel)
    {
        await using var connection = await database.OpenConnectionAsync(cancel);
        await using (var listen = new NpgsqlCommand($"listen {Channel}", connection)) await listen.ExecuteNonQueryAsync(cancel);
        // It may have been said while nobody listened.
        cache.ForgetAll();
        while (true)
        {
            await connection.WaitAsync(cancel);
            cache.ForgetAll();
            log.LogInformation("All states were built again; the projection starts anew");
            await coordinator.PauseAsync();
            await coordinator.ResumeAsync();
        }
    }
}

using Marten;
using Npgsql;

namespace FleetLight.Service.Access;

/// <summary>Hears on every node which keys have ended, so that a revoked key is refused everywhere at once.</summary>
public sealed class KeyFollower(NpgsqlDataSource database, KeyDirectory keys, ILogger<KeyFollower> log) : BackgroundService
{
    /// <summary>Channel on which the ids of keys that ended are told.</summary>
    public const string Channel = "fleetlight_key";

    private static readonly TimeSpan TryAgain = TimeSpan.FromSeconds(1);

    // Anything sent shows at once that a connection has died in silence.
    private static readonly TimeSpan AskAnyway = TimeSpan.FromSeconds(5);

    /// <summary>Tells every node of a key that ends when the session is saved.</summary>
    public static void Tell(IDocumentSession session, string keyId) => session.QueueSqlCommand($"select pg_notify('{Channel}', ?)", keyId);

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        while (!stoppingToken.IsCancellationRequested)
        {
            try
            {
                await FollowAsync(stoppingToken);
            }
            catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
            {
                return;
            }
            catch (Exception lost) when (lost is NpgsqlException or System.Net.Sockets.SocketException or IOException or TimeoutException)
            {
                keys.Pause();
                log.LogWarning(lost, "Ended keys cannot be followed; every key is looked up until they can");
                await Task.Delay(TryAgain, stoppingToken);
            }
        }
    }

    private async Task FollowAsync(CancellationToken cancel)
    {
        await using var connection = await database.OpenConnectionAsync(cancel);
        connection.Notification += (_, told) => keys.Forget(told.Payload);
        await using var listen = new NpgsqlCommand($"listen {Channel}", connection);
        await listen.ExecuteNonQueryAsync(cancel);
        keys.Resume();
        while (true)
        {
            if (await connection.WaitAsync(AskAnyway, cancel)) continue;
            await using var ask = new NpgsqlCommand("select 1", connection) { CommandTimeout = 2 };
            await ask.ExecuteNonQueryAsync(cancel);
        }
    }
}

using FleetLight.FieldAgent.Outbox;

namespace FleetLight.FieldAgent;

/// <summary>Ends the agent where going on would make things worse, with an exit code that says why.</summary>
internal sealed class FatalEnd(IHostApplicationLifetime lifetime, ILogger<FatalEnd> log)
{
    /// <summary>The exit code; 0 where nothing ended the agent but its user.</summary>
    public int ExitCode { get; private set; }

    /// <summary>Ends the agent for a damaged outbox.</summary>
    public void Damaged(OutboxDamagedException damaged)
    {
        ExitCode = ExitCodes.Damaged;
        log.LogCritical("{Message}", damaged.Message);
        lifetime.StopApplication();
    }

    /// <summary>Runs work that goes on for ever; a full disk is waited out, a damaged outbox ends the agent.</summary>
    public async Task WatchAsync(Func<Task> work)
    {
        while (true)
        {
            try
            {
                await work();
                return;
            }
            catch (OutboxDamagedException damaged)
            {
                Damaged(damaged);
                return;
            }
            catch (OutboxBlockedException blocked)
            {
                log.LogError("{Message}", blocked.Message);
                await Task.Delay(TimeSpan.FromSeconds(10), lifetime.ApplicationStopping);
            }
            catch (InvalidDataException identity)
            {
                log.LogError("{Message}", identity.Message);
                await Task.Delay(TimeSpan.FromSeconds(10), lifetime.ApplicationStopping);
            }
        }
    }
}

/// <summary>What the process ends with.</summary>
internal static class ExitCodes
{
    /// <summary>It did what was asked.</summary>
    public const int Done = 0;

    /// <summary>What was asked cannot be done as it stands: a fact that is not sound, a thing that is not there.</summary>
    public const int NotDone = 1;

    /// <summary>The command line is not understood.</summary>
    public const int NotUnderstood = 2;

    /// <summary>The outbox is damaged.</summary>
    public const int Damaged = 3;

    /// <summary>The device is not enrolled.</summary>
    public const int NotEnrolled = 4;

    /// <summary>The service cannot be reached, or does not take the key.</summary>
    public const int NotReached = 5;

    /// <summary>The outbox cannot be written now.</summary>
    public const int Blocked = 6;
}

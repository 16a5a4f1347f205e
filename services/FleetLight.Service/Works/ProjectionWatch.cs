using System.Diagnostics.Metrics;
using FleetLight.Service.Hosting;
using FleetLight.Service.Store;
using Npgsql;
using IProjectionCoordinator = Marten.Events.Daemon.Coordination.IProjectionCoordinator;

namespace FleetLight.Service.Works;

/// <summary>How far the projection is.</summary>
/// <param name="Behind">Number of events that it has still to take in.</param>
/// <param name="Still">How long it has not moved although events wait; zero where it moves or has nothing to do.</param>
public sealed record ProjectionStanding(long Behind, TimeSpan Still);

/// <summary>How the projection is watched.</summary>
public sealed record ProjectionWatchOptions
{
    /// <summary>How often to look.</summary>
    public TimeSpan LookEvery { get; init; } = TimeSpan.FromSeconds(3);

    /// <summary>A page may take seconds; standing still for this long is told.</summary>
    public TimeSpan ToldAfter { get; init; } = TimeSpan.FromSeconds(15);

    /// <summary>Standing still for this long, it is started anew; not more often than that either.</summary>
    public TimeSpan StartedAnewAfter { get; init; } = TimeSpan.FromSeconds(60);
}

/// <summary>
/// Watches whether the projection moves, on whichever node it runs. One that stands still while events wait is told of by
/// the health check and the metrics, and this node's part of it is started anew: a daemon that hangs on a lost connection
/// lets go of its lock, and one node takes it up.
/// </summary>
public sealed class ProjectionWatch : BackgroundService
{
    private readonly ProjectionWatchOptions options;
    private readonly NpgsqlDataSource database;
    private readonly IProjectionCoordinator coordinator;
    private readonly TimeProvider clock;
    private readonly ILogger<ProjectionWatch> log;
    private volatile ProjectionStanding? standing;
    private long through = -1;
    private long movedAt;

    /// <summary>Makes the watch and its instruments.</summary>
    public ProjectionWatch(
        ProjectionWatchOptions options, NpgsqlDataSource database, IProjectionCoordinator coordinator, IMeterFactory meters, TimeProvider clock,
        ILogger<ProjectionWatch> log)
    {
        (this.options, this.database, this.coordinator, this.clock, this.log) = (options, database, coordinator, clock, log);
        movedAt = clock.GetTimestamp();
        var meter = meters.Create(Measures.MeterName);
        meter.CreateObservableGauge("fleetlight.projection.still", Still, "s", "How long the projection has not moved although events wait");
        meter.CreateObservableGauge("fleetlight.projection.behind", Behind, "{event}", "Events that wait for the projection");
    }

    /// <summary>That it stands still, where it has for long enough to be told; none while the store cannot be asked.</summary>
    public ProjectionStanding? StandsStill => standing is { } seen && seen.Still >= options.ToldAfter ? seen : null;

    /// <summary>Looks up the newest event and how far the projection is.</summary>
    public static async Task<(long Newest, long Through)> LookAsync(NpgsqlDataSource database, CancellationToken cancel)
    {
        await using var command = database.CreateCommand(
            $"""
            select coalesce((select max(seq_id) from {Tables.Schema}.mt_events), 0),
                   coalesce((select last_seq_id from {Tables.Schema}.mt_event_progression where name = '{WorksProjection.Name}:All'), 0)
            """);
        command.CommandTimeout = 5;
        await using var reader = await command.ExecuteReaderAsync(cancel);
        await reader.ReadAsync(cancel);
        return (reader.GetInt64(0), reader.GetInt64(1));
    }

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        var startedAnewAt = clock.GetTimestamp();
        using var timer = new PeriodicTimer(options.LookEvery);
        try
        {
            while (await timer.WaitForNextTickAsync(stoppingToken))
            {
                standing = await SeeAsync(stoppingToken);
                if (standing is not { } seen || seen.Still < options.StartedAnewAfter || clock.GetElapsedTime(startedAnewAt) < options.StartedAnewAfter) continue;
                startedAnewAt = clock.GetTimestamp();
                await StartAnewAsync(seen);
            }
        }
        catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
        {
            // The service ends.
        }
    }

    private Measurement<double>[] Still() => standing is { } seen ? [new(seen.Still.TotalSeconds)] : [];

    private Measurement<long>[] Behind() => standing is { } seen ? [new(seen.Behind)] : [];

    private async Task<ProjectionStanding?> SeeAsync(CancellationToken cancel)
    {
        try
        {
            var (newest, now) = await LookAsync(database, cancel);
            if (now != through || now >= newest) (through, movedAt) = (now, clock.GetTimestamp());
            return new ProjectionStanding(Math.Max(0, newest - now), now >= newest ? TimeSpan.Zero : clock.GetElapsedTime(movedAt));
        }
        catch (Exception failed) when (failed is NpgsqlException or TimeoutException or IOException)
        {
            // The health check tells of the database. What it holds is not known, so nobody is blamed.
            log.LogDebug(failed, "The projection cannot be watched");
            return null;
        }
    }

    private async Task StartAnewAsync(ProjectionStanding seen)
    {
        log.LogWarning("The projection has not moved for {Seconds:0} s with {Behind} events waiting; starting it anew", seen.Still.TotalSeconds, seen.Behind);
        try
        {
            await coordinator.PauseAsync();
            await coordinator.ResumeAsync();
        }
        catch (Exception failed)
        {
            log.LogError(failed, "The projection could not be started anew; trying again");
        }
    }
}

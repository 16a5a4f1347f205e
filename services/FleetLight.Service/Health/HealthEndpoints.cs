using FleetLight.Service.Hosting;
using FleetLight.Service.Secrets;
using FleetLight.Service.Works;
using Npgsql;

namespace FleetLight.Service.Health;

/// <summary>What a health check says.</summary>
public sealed record HealthView
{
    /// <summary><c>ready</c> or <c>not-ready</c>.</summary>
    public required string Status { get; init; }

    /// <summary>What is missing, in plain words.</summary>
    public required IReadOnlyList<string> Missing { get; init; }

    /// <summary>What whoever runs the service should know, though nothing is missing for it.</summary>
    public IReadOnlyList<string>? Notes { get; init; }

    /// <summary>Number of events that the projection has still to take in.</summary>
    public long? ProjectionBehind { get; init; }
}

/// <summary>Whether the service is alive, and whether it is ready.</summary>
public static class HealthEndpoints
{
    // So far behind, states would mislead: readers are better served by another node.
    private const long MostBehind = 200_000;

    /// <summary>Maps them.</summary>
    public static void MapHealth(this IEndpointRouteBuilder routes)
    {
        routes.MapGet("/health/live", () => Answers.Json(new HealthView { Status = "ready", Missing = [] }))
            .WithTags("Health").WithSummary("Whether the process is alive").WithDescription("Needs no key.").Produces<HealthView>();
        routes.MapGet("/health/ready", ReadyAsync)
            .WithTags("Health").WithSummary("Whether the service can take facts and answer, and what is missing").WithDescription("Needs no key.")
            .Produces<HealthView>().Produces<HealthView>(503);
    }

    private static async Task<IResult> ReadyAsync(NpgsqlDataSource database, ProjectionWatch watch, SealStanding seals, CancellationToken cancel)
    {
        try
        {
            var (newest, through) = await ProjectionWatch.LookAsync(database, cancel);
            var behind = newest - through;
            var (unread, aside) = await AsideAsync(database, cancel);
            string[] missing = [.. Still(watch.StandsStill), .. Unread(unread), .. Aside(aside), .. seals.Missing()];
            var notes = seals.Notes() is { Length: > 0 } some ? some : null;
            return behind <= MostBehind
                ? Answers.Json(new HealthView { Status = "ready", Missing = missing, Notes = notes, ProjectionBehind = behind })
                : Answers.Json(new HealthView { Status = "not-ready", Missing = ["The projection is far behind.", .. missing], Notes = notes, ProjectionBehind = behind }, 503);
        }
        catch (Exception failed) when (failed is NpgsqlException or TimeoutException)
        {
            return Answers.Json(new HealthView { Status = "not-ready", Missing = ["The database does not answer."] }, 503);
        }
    }

    private static async Task<(long Unread, long Aside)> AsideAsync(NpgsqlDataSource database, CancellationToken cancel)
    {
        await using var command = database.CreateCommand(
            $"select (select count(distinct data ->> 'eventSequence') from {DeadLetters.Table}), (select count(*) from fl_set_aside)");
        command.CommandTimeout = 5;
        await using var reader = await command.ExecuteReaderAsync(cancel);
        await reader.ReadAsync(cancel);
        return (reader.GetInt64(0), reader.GetInt64(1));
    }

    // Facts are still taken, and turning devices away would help nobody: the check stays ready, and says it.
    private static string[] Still(ProjectionStanding? seen) => seen is null
        ? []
        : [$"The projection has stood still for {seen.Still.TotalSeconds:0} s while {seen.Behind} events wait: states are that old."];

    // The daemon passes such an event over, so that one does not stop all: somebody has to be told.
    private static string[] Unread(long events) => events == 0
        ? []
        : [$"{events} event{(events == 1 ? "" : "s")} could not be read and {(events == 1 ? "is" : "are")} missing in the states: see GET /v1/set-aside."];

    private static string[] Aside(long pieces) => pieces == 0
        ? []
        : [$"{pieces} fact{(pieces == 1 ? " or thing is" : "s or things are")} set aside and not up to date in the states: see GET /v1/set-aside."];
}

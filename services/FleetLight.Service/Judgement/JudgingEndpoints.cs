using System.Globalization;
using FleetLight.Contracts.Views;
using FleetLight.Service.Access;
using FleetLight.Service.Audit;
using FleetLight.Service.Circuits;
using FleetLight.Service.Hosting;
using FleetLight.Service.Sync;
using JasperFx.Events;
using Marten;
using Npgsql;

namespace FleetLight.Service.Judgement;

/// <summary>How an organisation wants its circuits judged.</summary>
public static class JudgingEndpoints
{
    private const int CircuitsAtOnce = 200;

    /// <summary>Maps them.</summary>
    public static void MapJudging(this IEndpointRouteBuilder routes)
    {
        var group = routes.MapGroup("/v1/judging").WithTags("Judging");
        group.MapGet("", GetAsync).Needs(Scope.ReadStatus)
            .WithSummary("The settings of judging in force")
            .WithDescription("Risks in %, temperatures in °C, wattages in W. What is absent is at its stated default.")
            .Produces<JudgingView>().ProducesProblems(401, 403);
        group.MapPut("", SetAsync).Needs(Scope.SetJudging)
            .WithSummary("Set how circuits are judged")
            .WithDescription(
                "The settings take the place of those in force, whole: what is absent goes back to its stated default. Every circuit of the "
                + "organisation is then judged again, in the background; alerts are raised and cleared as follows. Risks in %, temperatures in °C, "
                + "wattages in W, currents in mA, voltages in V, lead times in days, efforts in minutes; priors are weights beside one another.")
            .Accepts<JudgingSettings>("application/json")
            .Produces<JudgingView>().ProducesProblems(400, 401, 403, 409, 413, 415);
    }

    private static async Task<IResult> GetAsync(Caller caller, IDocumentStore store, CancellationToken cancel)
    {
        await using var session = store.QuerySession(caller.Organisation);
        return Answers.Json(View(await NewestAsync(session, cancel)));
    }

    private static async Task<IResult> SetAsync(
        HttpRequest request, Caller caller, Acting acting, IDocumentStore store, NpgsqlDataSource database, ChangeFeed feed, CancellationToken cancel)
    {
        var (settings, problem) = await RequestBody.ReadAsync<JudgingSettings>(request, "a JSON object with settings of judging", cancel);
        if (settings is null) return Problems.Result(problem!);
        await using var session = store.LightweightSession(caller.Organisation);
        var before = await NewestAsync(session, cancel);
        // Asked before the circuits: what is not among them yet changes after it.
        var knownThrough = await feed.NewestAsync(cancel);
        var set = new JudgingSet
        {
            Version = (before?.Version ?? 0) + 1,
            Settings = settings,
            By = caller.Name,
            At = acting.At,
            KnownThrough = knownThrough,
        };
        session.Events.Append(JudgingEvents.SettingsStream, set.Version, set);
        foreach (var circuits in (await CircuitRows.IdsAsync(database, caller.Organisation, cancel)).Chunk(CircuitsAtOnce))
            session.Events.Append(JudgingEvents.AgainStream, new CircuitsToJudgeAgain { CircuitIds = circuits });
        acting.Note(session, AdministrativeAct.JudgingSet, null, ("version", set.Version.ToString(CultureInfo.InvariantCulture)));
        try
        {
            await session.SaveChangesAsync(cancel);
        }
        catch (EventStreamUnexpectedMaxEventIdException)
        {
            return Problems.Result(Problems.Conflict("Somebody else set them at the same moment.", "Read the settings again, then set yours."));
        }

        return Answers.Json(View(set));
    }

    private static async Task<JudgingSet?> NewestAsync(IQuerySession session, CancellationToken cancel) =>
        (await session.Events.FetchStreamAsync(JudgingEvents.SettingsStream, token: cancel)).Select(each => each.Data).OfType<JudgingSet>().LastOrDefault();

    private static JudgingView View(JudgingSet? set) => new()
    {
        Version = set?.Version ?? 0,
        SetAt = set?.At,
        SetBy = set?.By,
        Settings = set?.Settings ?? new JudgingSettings(),
    };
}

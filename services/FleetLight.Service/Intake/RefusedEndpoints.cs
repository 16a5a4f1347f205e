using System.Diagnostics;
using System.Text.Json;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Access;
using FleetLight.Service.Audit;
using FleetLight.Service.Hosting;
using Marten;

namespace FleetLight.Service.Intake;

/// <summary>Refused facts: list, mend, resubmit, dismiss.</summary>
public static class RefusedEndpoints
{
    /// <summary>Maps them.</summary>
    public static void MapRefused(this IEndpointRouteBuilder routes)
    {
        var group = routes.MapGroup("/v1/refused").WithTags("Refused facts");
        group.MapGet("", ListAsync).Needs(Scope.MendFacts)
            .WithSummary("Facts that were set aside")
            .WithDescription("Newest first. 'state' is open (the default), mended or dismissed.")
            .Produces<Page<RefusedFact>>().ProducesProblems(400, 401, 403);
        group.MapGet("/{id}", GetAsync).Needs(Scope.MendFacts)
            .WithSummary("One refused fact, as it was sent").Produces<RefusedFact>().ProducesProblems(401, 403, 404);
        group.MapPost("/{id}/resubmit", ResubmitAsync).Needs(Scope.MendFacts)
            .WithSummary("Hand a mended fact in")
            .WithDescription(
                "The body is the whole event, mended. It keeps the source and the running number of the device that sent it; the answer is "
                + "as for any fact, and a fact that is still wrong stays set aside.")
            .Accepts<object>(Envelope.SingleMediaType)
            .Produces<BatchReceipt>().ProducesProblems(400, 401, 403, 404, 409);
        group.MapPost("/{id}/dismiss", DismissAsync).Needs(Scope.MendFacts)
            .WithSummary("Decide that a refused fact is not needed")
            .Accepts<NoteBody>("application/json")
            .Produces<RefusedFact>().ProducesProblems(400, 401, 403, 404, 409);
    }

    private static async Task<IResult> ListAsync(Caller caller, IDocumentStore store, CancellationToken cancel, string? state = null, string? cursor = null, int? limit = null)
    {
        if (!Query.TryEnum(state, RefusedState.Open, "state", out var wanted, out var problem)) return Problems.Result(problem!);
        if (!Paging.TryRead(cursor, limit, out var page, out problem)) return Problems.Result(problem!);
        await using var session = store.QuerySession(caller.Organisation);
        var found = await session.Query<RefusedFact>().Where(fact => fact.State == wanted)
            .OrderByDescending(fact => fact.RefusedAt).ThenBy(fact => fact.Id)
            .Skip(page.Offset).Take(page.Limit + 1).ToListAsync(cancel);
        return Paging.ByOffset(found, page);
    }

    private static async Task<IResult> GetAsync(string id, Caller caller, IDocumentStore store, CancellationToken cancel)
    {
        await using var session = store.QuerySession(caller.Organisation);
        return await session.LoadAsync<RefusedFact>(id, cancel) is { } fact ? Answers.Json(fact) : Problems.Result(Problems.NotFound("refused fact", id));
    }

    private static async Task<IResult> ResubmitAsync(
        string id, HttpRequest request, Caller caller, Acting acting, IDocumentStore store, DeviceDesk desk, IntakeRetry retry, IntakeTelling telling,
        CancellationToken cancel)
    {
        await using var session = store.LightweightSession(caller.Organisation);
        if (await session.LoadAsync<RefusedFact>(id, cancel) is not { } aside) return Problems.Result(Problems.NotFound("refused fact", id));
        if (aside.State != RefusedState.Open) return Problems.Result(Settled(aside));
        var (body, sizeProblem) = await BodyReader.ReadAsync(request, cancel);
        if (sizeProblem is not null) return Problems.Result(sizeProblem);
        var (events, problem) = BatchReader.Read(body, false, aside.Source);
        if (problem is not null) return Problems.Result(problem);

        // The time of the fact stands in it; no device's clock is shown here, so none is corrected.
        var began = Stopwatch.GetTimestamp();
        var receipt = await retry.RunAsync(token => desk.HandInAsync(new HandIn(caller.Organisation, aside.Source, events, null, caller.KeyId, aside.Id), token), cancel);
        telling.HandedIn(caller.Organisation, aside.Source, receipt, Stopwatch.GetElapsedTime(began));
        if (receipt.Outcomes[0].Outcome != FactOutcome.Refused)
        {
            Settle(aside, RefusedState.Mended, caller, acting, null);
            session.Store(aside);
            acting.Note(session, AdministrativeAct.FactResubmitted, id, ("source", aside.Source));
            await session.SaveChangesAsync(cancel);
        }

        return Answers.Json(receipt);
    }

    private static async Task<IResult> DismissAsync(
        string id, HttpRequest request, Caller caller, Acting acting, IDocumentStore store, CancellationToken cancel)
    {
        var (note, problem) = await NoteBody.ReadAsync(request, cancel);
        if (problem is not null) return Problems.Result(problem);
        await using var session = store.LightweightSession(caller.Organisation);
        if (await session.LoadAsync<RefusedFact>(id, cancel) is not { } aside) return Problems.Result(Problems.NotFound("refused fact", id));
        if (aside.State != RefusedState.Open) return Problems.Result(Settled(aside));
        Settle(aside, RefusedState.Dismissed, caller, acting, note);
        session.Store(aside);
        acting.Note(session, AdministrativeAct.FactDismissed, id, ("source", aside.Source), ("note", note));
        await session.SaveChangesAsync(cancel);
        return Answers.Json(aside);
    }

    private static void Settle(RefusedFact aside, RefusedState state, Caller caller, Acting acting, string? note)
    {
        aside.State = state;
        aside.SettledBy = caller.KeyId;
        aside.SettledAt = acting.At;
        aside.Note = note;
    }

    private static Problem Settled(RefusedFact aside) => Problems.Conflict(
        $"The fact was {(aside.State == RefusedState.Mended ? "mended" : "dismissed")} already.", "Nothing is left to do here.");
}

/// <summary>A body that holds a note.</summary>
/// <param name="Note">What somebody wrote, 1 to 500 characters.</param>
public sealed record NoteBody([property: Text(500)] string Note)
{
    /// <summary>Reads the note of a request; one is needed.</summary>
    public static async Task<(string Note, Problem? Problem)> ReadAsync(HttpRequest request, CancellationToken cancel)
    {
        var (body, problem) = await BodyReader.ReadAsync(request, cancel);
        if (problem is not null) return ("", problem);
        try
        {
            var note = JsonSerializer.Deserialize<NoteBody>(body, WireJson.Strict)?.Note.Trim();
            return note is { Length: > 0 and <= 500 }
                ? (note, null)
                : ("", Problems.Parameter("note", "A note of 1 to 500 characters is needed.", "Say what was decided, so that the next person knows."));
        }
        catch (JsonException)
        {
            return ("", Problems.BodyUnreadable("The body is not a JSON object with a 'note'."));
        }
    }
}

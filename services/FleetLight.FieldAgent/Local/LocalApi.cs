using System.Text.Json;
using FleetLight.Contracts.Wire;
using FleetLight.FieldAgent.Outbox;

namespace FleetLight.FieldAgent.Local;

/// <summary>What other programs on this machine may ask the agent: record facts, look at them, mend them, see how it stands.</summary>
internal static class LocalApi
{
    private const int MostFacts = 1000;
    private const int MostListed = 1000;

    /// <summary>Maps it.</summary>
    public static void MapLocal(this IEndpointRouteBuilder routes)
    {
        routes.MapPost("/v1/facts", RecordAsync);
        routes.MapGet("/v1/facts", List);
        routes.MapGet("/v1/facts/{number:int}", (int number, AgentParts parts) =>
            parts.Shelf.Find(number) is { } fact ? Json(fact) : Fault(Problems.NotFound($"There is no fact with the number {number} here.")));
        routes.MapPost("/v1/facts/{number:int}/mend", MendAsync);
        routes.MapGet("/v1/status", (AgentParts parts) => Json(AgentStatus.Of(parts)));
    }

    /// <summary>An answer as JSON.</summary>
    public static IResult Json<T>(T value, int status = 200) => Results.Json(value, WireJson.Lenient, statusCode: status);

    /// <summary>A problem as an answer.</summary>
    public static IResult Fault(Problem problem) =>
        Results.Json(problem, WireJson.Lenient, contentType: ProblemMedia.Type, statusCode: problem.Status ?? 400);

    private static async Task<IResult> RecordAsync(HttpRequest request, AgentParts parts, CancellationToken cancel)
    {
        if (parts.Identities.Find() is not { } identity) return Fault(Problems.NotEnrolled());
        using var body = new MemoryStream();
        await request.Body.CopyToAsync(body, cancel);
        var (facts, problem) = FactReader.Read(body.ToArray());
        if (problem is not null) return Fault(problem);
        if (facts.Count > MostFacts) return Fault(Problems.Unreadable($"At most {MostFacts} facts are taken at once."));
        // On the disk before it is answered; whether the writer still listens makes no difference.
        var result = parts.Desk.Record(identity.Source, facts);
        return result.Problem is { } wrong
            ? Fault(facts.Count > 1 ? wrong with { Field = $"[{result.Index}].{wrong.Field}" } : wrong)
            : Json(new { facts = result.Written }, StatusCodes.Status201Created);
    }

    private static async Task<IResult> MendAsync(int number, HttpRequest request, AgentParts parts, CancellationToken cancel)
    {
        if (parts.Identities.Find() is not { } identity) return Fault(Problems.NotEnrolled());
        MendedFact? mend;
        try
        {
            mend = await JsonSerializer.DeserializeAsync<MendedFact>(request.Body, WireJson.Strict, cancel);
        }
        catch (JsonException bad)
        {
            return Fault(Problems.Unreadable(FactReader.Say(bad)));
        }

        if (mend is null) return Fault(Problems.Unreadable("There is nothing."));
        var result = parts.Desk.Mend(identity.Source, number, mend);
        return result.Problem is { } wrong ? Fault(wrong) : Json(new { facts = result.Written }, StatusCodes.Status201Created);
    }

    private static IResult List(AgentParts parts, string? state = null, int after = 0, int limit = 100)
    {
        FactState? wanted = null;
        foreach (var each in Enum.GetValues<FactState>())
        {
            if (state == FactShelf.Word(each)) wanted = each;
        }

        if (state is not null && wanted is null)
            return Fault(Problems.Unreadable($"'state' is waiting, held, in-hand or refused, not '{state}'."));
        if (limit is < 1 or > MostListed) return Fault(Problems.Unreadable($"'limit' is 1 to {MostListed}."));
        return Json(new { facts = parts.Shelf.List(wanted, after, limit) });
    }
}

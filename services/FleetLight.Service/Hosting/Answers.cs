using FleetLight.Contracts.Wire;

namespace FleetLight.Service.Hosting;

/// <summary>Answers of endpoints.</summary>
public static class Answers
{
    /// <summary>The value as JSON.</summary>
    public static IResult Json<T>(T value, int status = StatusCodes.Status200OK) =>
        Results.Json(value, WireJson.Lenient, "application/json", status);

    /// <summary>The problems that an endpoint may answer with, for its description.</summary>
    public static RouteHandlerBuilder ProducesProblems(this RouteHandlerBuilder endpoint, params ReadOnlySpan<int> statuses)
    {
        foreach (var status in statuses) endpoint.Produces<Problem>(status, ProblemMedia.Type);
        return endpoint;
    }
}

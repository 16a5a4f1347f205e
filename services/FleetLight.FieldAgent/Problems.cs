using FleetLight.Contracts.Wire;

namespace FleetLight.FieldAgent;

/// <summary>What the agent itself answers with.</summary>
internal static class Problems
{
    /// <summary>There is no such thing.</summary>
    public static Problem NotFound(string detail) => new()
    {
        Type = ProblemTypes.NotFound,
        Title = "Not found",
        Status = 404,
        Detail = detail,
    };

    /// <summary>Something else stands in the way.</summary>
    public static Problem Conflict(string detail, string remedy) => new()
    {
        Type = ProblemTypes.Conflict,
        Title = "Something stands in the way",
        Status = 409,
        Detail = detail,
        Remedy = remedy,
    };

    /// <summary>A body cannot be read.</summary>
    public static Problem Unreadable(string detail) => new()
    {
        Type = ProblemTypes.BodyUnreadable,
        Title = "The input is not readable JSON",
        Status = 400,
        Detail = detail,
        Remedy = "Send {\"type\": …, \"data\": {…}}, or an array of such. Nothing was recorded.",
    };

    /// <summary>The agent cannot do it now.</summary>
    public static Problem Unavailable(string detail) => new()
    {
        Type = ProblemTypes.Unavailable,
        Title = "The agent cannot do this now",
        Status = 503,
        Detail = detail,
    };

    /// <summary>Nobody has enrolled the device yet.</summary>
    public static Problem NotEnrolled() => Conflict(
        "The device has no key yet, so it does not know whose facts these are.",
        "Ask the office for a code and enrol: enrol CODE --service ADDRESS.");
}

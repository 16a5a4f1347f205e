using System.Collections.Frozen;
using System.Diagnostics;
using System.Text.Json;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Access;

namespace FleetLight.Service.Hosting;

/// <summary>Every problem that the service answers with, in one place, so that types and titles stay stable.</summary>
public static class Problems
{
    /// <summary>No key, or none that is in force.</summary>
    public static Problem KeyMissing(bool given) => new()
    {
        Type = ProblemTypes.KeyMissing,
        Title = "A key is needed",
        Status = StatusCodes.Status401Unauthorized,
        Detail = given ? "The key is not known, or was revoked." : "The request carries no key.",
        Field = "Authorization",
        Remedy = "Send the header 'Authorization: Bearer <key>' with a key of your organisation.",
    };

    /// <summary>The key does not allow this.</summary>
    public static Problem ScopeMissing(Scope scope) => new()
    {
        Type = ProblemTypes.ScopeMissing,
        Title = "The key does not allow this",
        Status = StatusCodes.Status403Forbidden,
        Detail = $"This needs a key with the scope '{ScopeName(scope)}'.",
        Field = "Authorization",
        Remedy = "Ask an administrator of your organisation for a key with that scope.",
    };

    /// <summary>A token that is not taken: which of its parts is wrong is not said.</summary>
    public static Problem TokenNotTaken() => KeyMissing(true) with
    {
        Detail = "The token is not taken: it is out of date, for somebody else, or not signed by an issuer that is known here.",
        Remedy = "Sign in again with the provider of your organisation, or use a key.",
    };

    /// <summary>A token that is sound and does not say what is needed.</summary>
    public static Problem TokenOfNobody(string what) => new()
    {
        Type = ProblemTypes.ScopeMissing,
        Title = "The token does not allow this",
        Status = StatusCodes.Status403Forbidden,
        Detail = $"The token names no {what} that is known here.",
        Field = "Authorization",
        Remedy = "Ask whoever runs your sign-in to add it.",
    };

    /// <summary>The keys of a token's issuer cannot be had.</summary>
    public static Problem IssuerSilent() => Unavailable() with
    {
        Detail = "The token cannot be checked: its issuer does not answer.",
        Remedy = "Try again after the time in Retry-After. Keys are taken meanwhile.",
    };

    /// <summary>The request took longer than any may.</summary>
    public static Problem TookTooLong() => Unavailable() with
    {
        Detail = "The request took too long and was given up. Whether something of it was recorded is not known.",
        Remedy = "Send the same again after the time in Retry-After: what was recorded is known by its id.",
    };

    /// <summary>A one-time code that is wrong, used, expired or taken back: which of them is not said.</summary>
    public static Problem CodeNotValid() => new()
    {
        Type = ProblemTypes.CodeNotValid,
        Title = "The code is not valid",
        Status = StatusCodes.Status403Forbidden,
        Detail = "The code is wrong, was used, or is out of date.",
        Field = "code",
        Remedy = "Compare it with what the office shows. Else ask the office for a new one.",
    };

    /// <summary>More requests than one caller may send.</summary>
    public static Problem TooManyRequests() => new()
    {
        Type = ProblemTypes.TooManyRequests,
        Title = "Too many requests",
        Status = StatusCodes.Status429TooManyRequests,
        Detail = "More requests came than one caller may send in this time. Nothing of this one was recorded.",
        Remedy = "Send it again after the time in Retry-After.",
    };

    /// <summary>There is no such thing in the caller's organisation.</summary>
    public static Problem NotFound(string what, string id) => new()
    {
        Type = ProblemTypes.NotFound,
        Title = "Not found",
        Status = StatusCodes.Status404NotFound,
        Detail = $"Your organisation has no {what} with the id '{Short(id)}'.",
        Remedy = Recorded.Contains(what)
            ? "Check the id. If its first fact is still on a device, it appears once that has been sent."
            : "Check the id; the list of its kind shows those that there are.",
    };

    /// <summary>A page that was left out when the service was built.</summary>
    public static Problem PageNotBuilt(string page) => new()
    {
        Type = ProblemTypes.NotFound,
        Title = "Not found",
        Status = StatusCodes.Status404NotFound,
        Detail = $"The {page} page was not built into this service.",
        Remedy = "Build the service with its pages (without PublishPages=false), or name their folder in the setting Pages__Folder. The API is described at /docs.",
    };

    // What begins with a fact from a device.
    private static readonly FrozenSet<string> Recorded = FrozenSet.Create(StringComparer.Ordinal, "site", "circuit", "duct", "cable", "box");

    /// <summary>A parameter is not understood.</summary>
    public static Problem Parameter(string name, string detail, string remedy) => new()
    {
        Type = ProblemTypes.ParameterInvalid,
        Title = "A parameter is not understood",
        Status = StatusCodes.Status400BadRequest,
        Detail = detail,
        Field = name,
        Remedy = remedy,
    };

    /// <summary>Something else stands in the way.</summary>
    public static Problem Conflict(string detail, string remedy) => new()
    {
        Type = ProblemTypes.Conflict,
        Title = "Something stands in the way",
        Status = StatusCodes.Status409Conflict,
        Detail = detail,
        Remedy = remedy,
    };

    /// <summary>A body that cannot be read as JSON.</summary>
    public static Problem BodyUnreadable(string detail) => new()
    {
        Type = ProblemTypes.BodyUnreadable,
        Title = "The body is not readable JSON",
        Status = StatusCodes.Status400BadRequest,
        Detail = detail,
        Remedy = "Send complete JSON in UTF-8. Nothing of this request was recorded: send it again whole.",
    };

    /// <summary>A member of a request is not as its contract asks.</summary>
    public static Problem RequestInvalid(string? field, string detail, string remedy) => new()
    {
        Type = ProblemTypes.DataInvalid,
        Title = "The data is not as the type asks",
        Status = StatusCodes.Status400BadRequest,
        Detail = detail,
        Field = field,
        Remedy = remedy,
    };

    /// <summary>A value of a request is outside its range.</summary>
    public static Problem RequestOutOfRange(string field, string detail, string remedy) => new()
    {
        Type = ProblemTypes.OutOfRange,
        Title = "A value is out of range",
        Status = StatusCodes.Status400BadRequest,
        Detail = detail,
        Field = field,
        Remedy = remedy,
    };

    /// <summary>A request has more bytes than its path takes.</summary>
    public static Problem RequestTooLarge(int most) => new()
    {
        Type = ProblemTypes.RequestTooLarge,
        Title = "The request is too large",
        Status = StatusCodes.Status413PayloadTooLarge,
        Detail = $"At most {most} bytes are taken in one request.",
        Remedy = "Ask for less at once.",
    };

    /// <summary>Too many calculations run or wait.</summary>
    public static Problem TooBusy() => new()
    {
        Type = ProblemTypes.TooBusy,
        Title = "Too many calculations at once",
        Status = StatusCodes.Status429TooManyRequests,
        Detail = "As many calculations as may run and wait at once do so already.",
        Remedy = "Ask again after the time in Retry-After, and wait for one answer before asking for many more.",
    };

    /// <summary>What routing did not find for a request; none where its status says something else.</summary>
    public static Problem? OfRouting(HttpContext context) => context.Response.StatusCode switch
    {
        StatusCodes.Status404NotFound => new Problem
        {
            Type = ProblemTypes.NotFound,
            Title = "Not found",
            Status = StatusCodes.Status404NotFound,
            Detail = "There is no such path.",
            Remedy = "/openapi/v1.json lists the paths.",
        },
        StatusCodes.Status405MethodNotAllowed => new Problem
        {
            Type = ProblemTypes.MethodNotAllowed,
            Title = "The path does not take this method",
            Status = StatusCodes.Status405MethodNotAllowed,
            Detail = $"The path takes {context.Response.Headers.Allow}.",
            Remedy = "/openapi/v1.json lists the methods of each path.",
        },
        StatusCodes.Status415UnsupportedMediaType => ContentTypeUnknown(context.Request.ContentType, "/openapi/v1.json lists the content types of each path."),
        _ => null,
    };

    /// <summary>The content type is none that the path takes.</summary>
    public static Problem ContentTypeUnknown(string? given, string remedy) => new()
    {
        Type = ProblemTypes.ContentTypeUnknown,
        Title = "The content type is not taken here",
        Status = StatusCodes.Status415UnsupportedMediaType,
        Field = "Content-Type",
        Detail = string.IsNullOrEmpty(given) ? "The request has no content type." : $"'{Short(given)}' is not taken here.",
        Remedy = $"{remedy} Nothing of this request was recorded.",
    };

    /// <summary>The store does not answer.</summary>
    public static Problem Unavailable() => new()
    {
        Type = ProblemTypes.Unavailable,
        Title = "The service cannot answer now",
        Status = StatusCodes.Status503ServiceUnavailable,
        Detail = "The database did not answer.",
        Remedy = "Keep the facts and send them again after the time in Retry-After. Nothing that has a receipt is lost.",
    };

    /// <summary>What came with a newer version is not filled from the events yet.</summary>
    public static Problem ListsNotWhole() => Unavailable() with
    {
        Detail = "The lists of facts do not hold yet what was recorded before this version of the service.",
        Remedy = "Try again later. Whoever runs the service runs 'FleetLight.Service rebuild' once; nothing is lost meanwhile.",
    };

    /// <summary>Something went wrong inside.</summary>
    public static Problem Internal() => new()
    {
        Type = ProblemTypes.Internal,
        Title = "Something went wrong inside the service",
        Status = StatusCodes.Status500InternalServerError,
        Remedy = "Try again. If it stays, quote the trace id to whoever runs the service.",
    };

    /// <summary>The name of a scope as it is written.</summary>
    public static string ScopeName(Scope scope) => JsonNamingPolicy.KebabCaseLower.ConvertName(scope.ToString());

    /// <summary>The problem as the answer of an endpoint.</summary>
    public static IResult Result(Problem problem) =>
        Answers.Json(WithTrace(problem), problem.Status ?? StatusCodes.Status500InternalServerError, ProblemMedia.Type);

    /// <summary>Writes the problem as the answer to a request.</summary>
    public static Task WriteAsync(HttpContext context, Problem problem)
    {
        context.Response.StatusCode = problem.Status ?? StatusCodes.Status500InternalServerError;
        return context.Response.WriteAsJsonAsync(WithTrace(problem), WireJson.Lenient, ProblemMedia.Type, context.RequestAborted);
    }

    private static Problem WithTrace(Problem problem) => problem with { TraceId = Activity.Current?.TraceId.ToString() };

    private static string Short(string text) => text.Length <= 80 ? text : string.Concat(text.AsSpan(0, 80), "…");
}

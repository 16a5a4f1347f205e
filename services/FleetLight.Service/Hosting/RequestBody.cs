using System.Text.Json;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Checks;
using FleetLight.Service.Intake;

namespace FleetLight.Service.Hosting;

/// <summary>Reads a small JSON body as a record of the contract.</summary>
public static class RequestBody
{
    /// <summary>The record, checked against the marks of its members, or the problem with it.</summary>
    /// <param name="request">The request.</param>
    /// <param name="shape">What the body should be, for whoever sent something else: "an object with …".</param>
    /// <param name="cancel">Ends it.</param>
    public static async Task<(T? Body, Problem? Problem)> ReadAsync<T>(HttpRequest request, string shape, CancellationToken cancel) where T : class
    {
        var (wanted, problem) = await ReadUncheckedAsync<T>(request, shape, cancel);
        return wanted is not null && RequestCheck.Check(wanted) is [var first, ..]
            ? (null, Problems.Parameter(first.Field, first.Detail, first.Remedy))
            : (wanted, problem);
    }

    /// <summary>The record, which is yet to be checked, or the problem with it.</summary>
    /// <param name="request">The request.</param>
    /// <param name="shape">What the body should be.</param>
    /// <param name="cancel">Ends it.</param>
    public static async Task<(T? Body, Problem? Problem)> ReadUncheckedAsync<T>(HttpRequest request, string shape, CancellationToken cancel) where T : class
    {
        var (body, problem) = await BodyReader.ReadAsync(request, cancel);
        if (problem is not null) return (null, problem);
        try
        {
            return (JsonSerializer.Deserialize<T>(body, WireJson.Strict) ?? throw new JsonException(), null);
        }
        catch (JsonException)
        {
            return (null, Problems.BodyUnreadable($"The body is not {shape}."));
        }
    }
}

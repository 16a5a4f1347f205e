using System.Text.Json;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Calculations;
using FleetLight.Record.Checks;
using FleetLight.Service.Access;
using FleetLight.Service.Hosting;
using FleetLight.Service.Limits;

namespace FleetLight.Service.Calculations;

/// <summary>A calculation that anyone with a key may ask for. It reads and keeps nothing.</summary>
public interface ICalculation
{
    /// <summary>Last part of its path.</summary>
    string Name { get; }

    /// <summary>What it answers, in a line.</summary>
    string Summary { get; }

    /// <summary>The greatest sizes it takes, in a line.</summary>
    string Limits { get; }

    /// <summary>The units of what it answers, in a line.</summary>
    string Units { get; }

    /// <summary>Maps it below a group.</summary>
    void Map(IEndpointRouteBuilder group);

    /// <summary>Reads a request and says how much work it is; or what is wrong with it.</summary>
    (CalculationWork? Work, Problem? Problem) Read(ReadOnlyMemory<byte> body);
}

/// <summary>A calculation that was asked for and not yet made.</summary>
/// <param name="IsHeavy">Whether it may take long.</param>
/// <param name="Run">Makes it: the answer, or what is wrong with the request.</param>
public sealed record CalculationWork(bool IsHeavy, Func<(object? Answer, Problem? Problem)> Run);

/// <summary>A calculation by what it takes and what it answers.</summary>
/// <typeparam name="TRequest">What it takes.</typeparam>
/// <typeparam name="TAnswer">What it answers.</typeparam>
internal sealed class Calculation<TRequest, TAnswer> : ICalculation
    where TRequest : class
    where TAnswer : class
{
    /// <inheritdoc/>
    public required string Name { get; init; }

    /// <inheritdoc/>
    public required string Summary { get; init; }

    /// <summary>What it does, with a calculation by hand.</summary>
    public required string Description { get; init; }

    /// <inheritdoc/>
    public required string Limits { get; init; }

    /// <inheritdoc/>
    public required string Units { get; init; }

    /// <summary>Whether a request may take long.</summary>
    public Func<TRequest, bool> IsHeavy { get; init; } = _ => false;

    /// <summary>Makes it.</summary>
    public required Func<TRequest, Calculated<TAnswer>> Answer { get; init; }

    /// <inheritdoc/>
    public void Map(IEndpointRouteBuilder group) =>
        group.MapPost("/" + Name, (HttpRequest request, Caller caller, CalculationDesk desk, CancellationToken cancel) =>
                desk.AnswerAsync(this, request, caller, cancel))
            .Needs(Scope.ReadStatus).Limited(CallKind.Calculation)
            .WithSummary(Summary)
            .WithDescription($"{Description} Units: {Units} Limits: {Limits}")
            .Accepts<TRequest>("application/json")
            .Produces<TAnswer>().ProducesProblems(400, 401, 403, 413, 415, 429);

    /// <inheritdoc/>
    public (CalculationWork? Work, Problem? Problem) Read(ReadOnlyMemory<byte> body)
    {
        TRequest? asked;
        try
        {
            asked = JsonSerializer.Deserialize<TRequest>(body.Span, WireJson.Strict);
        }
        catch (JsonException bad)
        {
            return (null, OfJson(bad, body.Span));
        }

        if (asked is null) return (null, Problems.RequestInvalid(null, "The body is null.", "Send a JSON object as the contract asks."));
        var wrong = RequestCheck.Check(asked);
        return wrong.Count > 0
            ? (null, OfCheck(wrong[0], wrong.Count - 1))
            : (new CalculationWork(IsHeavy(asked), () => Run(asked)), null);
    }

    private (object? Answer, Problem? Problem) Run(TRequest asked)
    {
        var (answer, wrong) = Answer(asked);
        return (answer, wrong is null ? null : OfCheck(wrong, more: 0));
    }

    private static Problem OfCheck(FactProblem first, int more)
    {
        var detail = more == 0 ? first.Detail : $"{first.Detail} And {more} more.";
        return first.Kind == FactProblemKind.OutOfRange
            ? Problems.RequestOutOfRange(first.Field, detail, first.Remedy)
            : Problems.RequestInvalid(first.Field, detail, first.Remedy);
    }

    // Text that is no JSON at all and JSON that is no such request both come as the same exception.
    private static Problem OfJson(JsonException bad, ReadOnlySpan<byte> body)
    {
        var reader = new Utf8JsonReader(body, new JsonReaderOptions { MaxDepth = WireJson.Strict.MaxDepth });
        try
        {
            while (reader.Read())
            {
            }
        }
        catch (JsonException unreadable)
        {
            return Problems.BodyUnreadable(
                $"Line {unreadable.LineNumber + 1}, byte {unreadable.BytePositionInLine + 1} of the body cannot be read as JSON (RFC 8259).");
        }

        var fault = JsonFault.Of(bad, "");
        return Problems.RequestInvalid(fault.Field.Length > 0 ? fault.Field : null, fault.Detail, fault.Remedy);
    }
}

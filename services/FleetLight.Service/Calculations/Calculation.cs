using FleetLight.Contracts.Wire;
using FleetLight.Record.Calculations;
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
        var (asked, problem) = RequestReader.Read<TRequest>(body);
        return asked is null ? (null, problem) : (new CalculationWork(IsHeavy(asked), () => Run(asked)), null);
    }

    private (object? Answer, Problem? Problem) Run(TRequest asked)
    {
        var (answer, wrong) = Answer(asked);
        return (answer, wrong is null ? null : RequestReader.ProblemOf(wrong));
    }
}

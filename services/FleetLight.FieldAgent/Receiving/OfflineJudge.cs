using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Calculations;
using FleetLight.Record.Checks;

namespace FleetLight.FieldAgent.Receiving;

/// <summary>What was worked out here, or why it was not.</summary>
/// <typeparam name="T">The answer.</typeparam>
public sealed record Offline<T> where T : class
{
    /// <summary>The circuit.</summary>
    public required string CircuitId { get; init; }

    /// <summary>The answer. Advice, never a certificate.</summary>
    public T? Answer { get; init; }

    /// <summary>When the service told how the circuit is built. What was recorded since then does not count in the answer.</summary>
    public DateTimeOffset? AsOf { get; init; }

    /// <summary>That the service judges by other models than this agent, where it does.</summary>
    public string? Mind { get; init; }

    /// <summary>Why there is no answer.</summary>
    public Problem? Problem { get; init; }
}

/// <summary>
/// Works out what a circuit should read, and judges a reading, without a connection: by the same code as the service, on the
/// circuit as the service last told it, with the organisation's own assumptions and risks.
/// </summary>
internal static class OfflineJudge
{
    /// <summary>What a circuit should read.</summary>
    public static Offline<ExpectedAnswer> Expect(SiteShelf sites, string circuit) => Work(
        sites, circuit, (model, input) => new ExpectedRequest { Circuit = input, Assumptions = model.Assumptions }, CalculateExpected.Answer, answer => answer.ModelVersion);

    /// <summary>Whether a reading is what a sound circuit would show.</summary>
    public static Offline<VerdictAnswer> Judge(SiteShelf sites, string circuit, ReadingInput reading) => Work(
        sites, circuit,
        (model, input) => new VerdictRequest
        {
            Circuit = input,
            Assumptions = model.Assumptions,
            Rule = model.Rule,
            Readings = [reading with { Place = model.BoxAliases?.GetValueOrDefault(reading.Place) ?? reading.Place }],
        },
        CalculateVerdict.Answer, answer => answer.ModelVersion);

    private static Offline<TAnswer> Work<TRequest, TAnswer>(
        SiteShelf sites, string circuit, Func<CircuitModelView, CircuitInput, TRequest> ask, Func<TRequest, Calculated<TAnswer>> calculate,
        Func<TAnswer, int> version)
        where TRequest : class
        where TAnswer : class
    {
        if (sites.Find("model", circuit) is not { } kept) return Without(Problems.NotFound($"How circuit '{circuit}' is built is not known here."));
        var model = kept.As<CircuitModelView>();
        if (model.Circuit is not { } input || model.Missing.Count > 0)
            return Without(Problems.Conflict(string.Join(' ', model.Missing.DefaultIfEmpty("The circuit has no design.")), "Record what is missing."));
        var request = ask(model, input);
        if (RequestCheck.Check(request) is [var wrong, ..]) return Without(Told(wrong));
        var calculated = calculate(request);
        if (calculated.Problem is { } problem) return Without(Told(problem));
        var own = version(calculated.Answer!);
        return new Offline<TAnswer>
        {
            CircuitId = circuit,
            Answer = calculated.Answer,
            AsOf = kept.FetchedAt,
            Mind = own == model.ModelVersion ? null : $"This agent judges by models of version {own}, the service by version {model.ModelVersion}: the service's word counts.",
        };

        Offline<TAnswer> Without(Problem why) => new() { CircuitId = circuit, Problem = why };
    }

    private static Problem Told(FactProblem wrong) => new()
    {
        Type = wrong.Kind == FactProblemKind.OutOfRange ? ProblemTypes.OutOfRange : ProblemTypes.DataInvalid,
        Title = "It cannot be worked out",
        Status = 400,
        Field = wrong.Field,
        Detail = wrong.Detail,
        Remedy = wrong.Remedy,
    };
}

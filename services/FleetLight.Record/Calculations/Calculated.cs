using FleetLight.Record.Checks;

namespace FleetLight.Record.Calculations;

/// <summary>An answer, or what is wrong with the request that only the calculation could see: exactly one of the two.</summary>
/// <typeparam name="TAnswer">The answer.</typeparam>
/// <param name="Answer">The answer.</param>
/// <param name="Problem">What is wrong with the request.</param>
public readonly record struct Calculated<TAnswer>(TAnswer? Answer, FactProblem? Problem)
    where TAnswer : class
{
    /// <summary>An answer.</summary>
    public static implicit operator Calculated<TAnswer>(TAnswer answer) => new(answer, null);

    /// <summary>What is wrong with the request.</summary>
    public static implicit operator Calculated<TAnswer>(FactProblem problem) => new(null, problem);
}

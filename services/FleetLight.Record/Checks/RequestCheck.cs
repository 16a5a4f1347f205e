using FleetLight.Record.Checks.Members;

namespace FleetLight.Record.Checks;

/// <summary>
/// Checks a record of the contract that is no fact, such as what a calculation is asked: every member against the range,
/// length and pattern that its contract states.
/// </summary>
public static class RequestCheck
{
    /// <summary>What is wrong with the record, with paths that start at it; nothing where it is sound.</summary>
    public static IReadOnlyList<FactProblem> Check<T>(T record)
        where T : class
    {
        ArgumentNullException.ThrowIfNull(record);
        var run = new CheckRun("");
        Shape<T>.CheckAll(record, run);
        return run.Problems;
    }
}

using FleetLight.Record.Checks.Members;

namespace FleetLight.Record.Checks;

/// <summary>
/// Checks a record that is no fact, such as the body of a request: every member against the range, length and pattern that
/// its contract states.
/// </summary>
public static class RecordCheck
{
    /// <summary>What is wrong with the record; nothing where it is sound. Paths start at the record's own members.</summary>
    public static IReadOnlyList<FactProblem> Check<T>(T record)
        where T : class
    {
        ArgumentNullException.ThrowIfNull(record);
        var run = new CheckRun("");
        Shape<T>.CheckAll(record, run);
        return run.Problems;
    }
}

using FleetLight.Contracts.Facts;
using FleetLight.Record.Checks;
using FleetLight.Record.Checks.Across;

namespace FleetLight.Record.Designs;

/// <summary>
/// Everything that is wrong with a design. Facts are checked together only once each member is sound by itself; whoever mends a file
/// wants to know all of it at once.
/// </summary>
internal static class DesignCheck
{
    public static IReadOnlyList<FactProblem> All(CircuitDesigned design)
    {
        var run = new CheckRun(FactCheck.Root);
        DesignRules.Check(design, run);
        run.Enter("driver");
        DesignRules.Check(design.Driver, run);
        run.Leave();
        run.Enter("runs");
        for (var i = 0; i < design.Runs.Length; i++)
        {
            run.Enter(i);
            DesignRules.Check(design.Runs[i], run);
            run.Leave();
        }

        return [.. FactCheck.Check(design).Concat(run.Problems).Distinct()];
    }
}

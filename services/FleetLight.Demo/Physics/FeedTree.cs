namespace FleetLight.Demo.Physics;

/// <summary>A branch of a constant-voltage feed: the cable from a place nearer the driver, and the load at its far end.</summary>
/// <param name="From">Index of the branch that feeds it; −1 for the driver.</param>
/// <param name="Ohms">Cable and contacts out and back, Ω.</param>
/// <param name="Watts">Constant power taken at its far end, W.</param>
internal readonly record struct FeedBranch(int From, double Ohms, double Watts);

/// <summary>A constant-voltage driver with its fittings on a tree of cable.</summary>
internal static class FeedTree
{
    private const int MostSweeps = 200;

    /// <summary>Volts at the far end of every branch and amps at the driver, by backward and forward sweeps.</summary>
    /// <param name="driverVolts">Volts at the driver, V.</param>
    /// <param name="branches">The branches, each after the one that feeds it.</param>
    /// <exception cref="InvalidOperationException">The cable cannot carry the load.</exception>
    public static (double[] Volts, double Amps) Solve(double driverVolts, IReadOnlyList<FeedBranch> branches)
    {
        var volts = new double[branches.Count];
        Array.Fill(volts, driverVolts);
        var amps = new double[branches.Count];
        for (var sweep = 0; sweep < MostSweeps; sweep++)
        {
            for (var index = 0; index < amps.Length; index++) amps[index] = branches[index].Watts / volts[index];
            for (var index = amps.Length - 1; index >= 0; index--)
            {
                if (branches[index].From >= 0) amps[branches[index].From] += amps[index];
            }

            var moved = 0.0;
            for (var index = 0; index < volts.Length; index++)
            {
                var (from, ohms, _) = branches[index];
                var now = (from < 0 ? driverVolts : volts[from]) - (amps[index] * ohms);
                moved = Math.Max(moved, Math.Abs(now - volts[index]));
                volts[index] = now;
            }

            if (volts.Any(each => !(each > 0))) break;
            if (moved < 1e-9) return (volts, branches.Select((branch, index) => branch.From < 0 ? amps[index] : 0).Sum());
        }

        throw new InvalidOperationException("The cable cannot carry this load.");
    }
}

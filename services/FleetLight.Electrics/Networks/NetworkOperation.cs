namespace FleetLight.Electrics;

/// <summary>Why a network has no operating point.</summary>
internal enum NetworkFailure
{
    /// <summary>It has one.</summary>
    None,

    /// <summary>No voltage exists at which the cable carries the power.</summary>
    Collapse,

    /// <summary>The driver is at its limit, and no lower voltage brings the current down to it.</summary>
    Overload,
}

/// <summary>
/// Finds how a network runs: which fittings go dark because their voltage is too low, and how far the driver's voltage
/// sags at its limit.
/// </summary>
/// <remarks>
/// Everything starts on. Fittings below their least voltage go dark, all that are at once, and stay dark; the rest is
/// worked out again until none is below. With a fault, where there is no operating point with all that are on, fittings
/// of constant power go dark whose voltage would be below their least one even if none of them drew current.
/// </remarks>
internal sealed class NetworkOperation(NetworkBuilt built, NetworkLimits limits)
{
    private const int MostRounds = 200;
    private const int MostSags = 100;

    private readonly NetworkSolver solver = new(built);

    /// <summary>The network at its voltages.</summary>
    public NetworkSolver Solver => solver;

    /// <summary>How the driver holds its output.</summary>
    public NetworkHold Hold { get; private set; }

    /// <summary>Finds the operating point.</summary>
    public NetworkFailure Run()
    {
        if (built.IsDead)
        {
            Hold = NetworkHold.Nothing;
            return NetworkFailure.None;
        }

        for (var round = 0; round < MostRounds; round++)
        {
            var failure = RunOnce();
            if (failure != NetworkFailure.None && !(built.IsChanged && DropHopeless())) return failure;
            if (failure == NetworkFailure.None && !DropBelowLeast()) return NetworkFailure.None;
        }

        return NetworkFailure.Collapse;
    }

    private NetworkFailure RunOnce()
    {
        Hold = NetworkHold.Volts;
        if (!solver.TrySolve(built.DriverVolts)) return NetworkFailure.Collapse;
        if (solver.DriverAmps > limits.MostAmps && !TrySag(NetworkHold.Amps)) return NetworkFailure.Overload;
        if (solver.DriverAmps * solver.Volts[0] > limits.MostWatts * (1 + 1e-9) && !TrySag(NetworkHold.Watts))
            return NetworkFailure.Overload;
        return NetworkFailure.None;
    }

    private bool DropBelowLeast()
    {
        var any = false;
        foreach (ref var load in built.Loads.AsSpan())
        {
            if (!load.IsOn || !(solver.Volts[load.Node] < load.LeastVolts)) continue;
            any = load.IsDropped = true;
        }

        return any;
    }

    private bool DropHopeless()
    {
        var loads = built.Loads;
        var powers = new List<int>();
        for (var i = 0; i < loads.Length; i++)
        {
            if (loads[i].Kind != DrawKind.Power || loads[i].IsDropped) continue;
            powers.Add(i);
            loads[i].IsDropped = true;
        }

        var best = powers.Count > 0 && RunOnce() == NetworkFailure.None;
        var any = false;
        foreach (var i in powers)
        {
            loads[i].IsDropped = best && solver.Volts[loads[i].Node] < loads[i].LeastVolts;
            any |= loads[i].IsDropped;
        }

        return any;
    }

    // The highest voltage below the present one at which the current or power is at its limit: Newton's method from
    // above, within a bracket where there is one. Current that rises as the voltage falls never comes down to a limit.
    private bool TrySag(NetworkHold hold)
    {
        Hold = hold;
        double high = solver.Volts[0], low = 0, volts = high;
        var canBisect = !built.Loads.Any(load => load is { Kind: DrawKind.Power, IsOn: true });
        for (var step = 0; step < MostSags; step++)
        {
            var (over, slope, scale) = Over(hold);
            if (Math.Abs(over) <= 1e-12 * scale) return true;
            if (over > 0) high = volts;
            else (low, canBisect) = (volts, true);
            if (!(slope > 0) && !canBisect) return false;
            var next = volts - (over / slope);
            if (!(next > low && next < high))
            {
                if (!canBisect) return false;
                next = (low + high) / 2;
            }

            if (Math.Abs(next - volts) <= 1e-15 * volts) return true;
            var solved = next < volts ? solver.TryContinue(next) : solver.TrySolve(next);
            if (!solved) return false;
            volts = next;
        }

        return true;
    }

    private (double Over, double Slope, double Scale) Over(NetworkHold hold)
    {
        var amps = solver.DriverAmps;
        var slope = solver.Conductances.Shunt[0];
        var volts = solver.Volts[0];
        return hold == NetworkHold.Amps
            ? (amps - limits.MostAmps, slope, limits.MostAmps)
            : ((amps * volts) - limits.MostWatts, amps + (slope * volts), limits.MostWatts);
    }
}

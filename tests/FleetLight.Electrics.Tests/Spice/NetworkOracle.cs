using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.Spice;

/// <summary>
/// Asks the simulator how a network runs: what its driver holds and which fittings have gone dark for want of voltage.
/// </summary>
/// <remarks>
/// Whatever is supposed is checked against what is found: every lit fitting has its least volts, no dark one would have
/// them, and the driver is within all of its limits.
/// </remarks>
internal sealed class NetworkOracle
{
    private const double Rounding = 1 + 1e-7;

    // A dark fitting is clearly dark if it misses its least volts by this share, a lit one clearly lit if it has as much
    // more.
    private const double Clearly = 0.001;

    private readonly AsFound found;
    private readonly double ratedVolts;
    private readonly List<FoundFitting> able;
    private readonly HashSet<FoundFitting> lit;

    private NetworkOracle(AsFound found)
    {
        this.found = found;
        ratedVolts = found.Model.Driver.RatedVolts!.Value;
        able = [.. found.Fittings.Where(CanDraw)];
        lit = [.. able];
    }

    /// <summary>Finds how a network runs.</summary>
    /// <param name="found">The network.</param>
    /// <param name="oracle">What it reads; null where the simulator finds no operating point.</param>
    /// <returns>
    /// False where a fitting is neither clearly lit nor clearly dark, as one that has its volts only while it is dark.
    /// </returns>
    public static bool TrySolve(AsFound found, out Oracle? oracle)
    {
        var asked = new NetworkOracle(found);
        oracle = asked.Find();
        return oracle is null || asked.IsClear(oracle);
    }

    private Oracle? Find()
    {
        if (Settle() is { } oracle) return oracle;
        // With all of them on it does not run. Those light up that would have their volts if none of them drew any.
        if (lit.RemoveWhere(fitting => fitting.LeastVolts(ratedVolts) > 0) == 0 || Held() is not { } dark) return null;
        lit.UnionWith(able.Where(fitting => fitting.LeastVolts(ratedVolts) <= Volts(dark, fitting)));
        return Settle();
    }

    // Lets fittings go dark until all that are lit have their volts.
    private Oracle? Settle()
    {
        while (true)
        {
            var oracle = Held();
            if (oracle is null) return null;
            if (lit.RemoveWhere(fitting => Volts(oracle, fitting) < fitting.LeastVolts(ratedVolts)) == 0) return oracle;
        }
    }

    // The driver holds its volts, or else its greatest amps or watts.
    private Oracle? Held()
    {
        var driver = found.Model.Driver;
        foreach (var held in Enum.GetValues<NetworkHeld>())
        {
            if (held == NetworkHeld.Amps && driver.MostAmps is null) continue;
            if (held == NetworkHeld.Watts && driver.MostWatts is null) continue;
            if (NetworkDeck.Read(found, held, lit) is not { } oracle || IsSham(oracle)) continue;
            var (volts, amps) = (Math.Abs(oracle.DriverVolts), Math.Abs(oracle.DriverMilliamps) / 1000);
            var isWithin = volts <= found.DriverValue * Rounding
                && amps <= (driver.MostAmps ?? double.PositiveInfinity) * Rounding
                && volts * amps <= (driver.MostWatts ?? double.PositiveInfinity) * Rounding;
            if (isWithin || found.IsDead) return oracle;
        }

        return null;
    }

    private bool IsClear(Oracle oracle) => able.All(fitting =>
        fitting.LeastVolts(ratedVolts) is var least && (lit.Contains(fitting)
            ? Volts(oracle, fitting) >= least * (1 + Clearly)
            : Volts(oracle, fitting) <= least * (1 - Clearly)));

    // From the no-load volts the search comes straight to the highest solution where there is one. Where it had to feel
    // its way instead and has a constant power drawn below half of the driver's volts, it is a solution on paper only.
    private bool IsSham(Oracle oracle) => !oracle.IsDirect && lit.Any(fitting =>
        fitting.IsOfConstantPower && Volts(oracle, fitting) < Math.Abs(oracle.DriverVolts) / 2);

    private static double Volts(Oracle oracle, FoundFitting fitting) =>
        Math.Abs(oracle.Readings[(fitting.Node, MeasuredQuantity.VoltsDc)]);

    private bool CanDraw(FoundFitting fitting) =>
        !fitting.IsOpen && !found.IsDead && found.IsFed(fitting.Node)
            && (!found.IsReversed || fitting.BypassVolts == 0 || fitting.Recorded?.Load == LoadKind.Resistive);
}

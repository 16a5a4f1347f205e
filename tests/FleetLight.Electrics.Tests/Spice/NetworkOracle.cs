using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.Spice;

/// <summary>
/// Asks the simulator how a network runs: what its driver holds and which fittings have gone dark for want of voltage.
/// </summary>
/// <remarks>
/// Whatever is supposed is checked against what is found: every lit fitting has its least volts, no dark one would have
/// them, and the driver is within all of its limits.
/// </remarks>
internal static class NetworkOracle
{
    private const double Rounding = 1 + 1e-7;

    // A dark fitting is clearly dark if it misses its least volts by this.
    private const double Clearly = 0.001;

    /// <summary>How a network runs; null where the simulator finds no operating point.</summary>
    public static Oracle? Solve(AsFound found)
    {
        var lit = found.Fittings.Where(fitting => CanDraw(found, fitting)).ToHashSet();
        var oracle = Settle(found, lit);
        if (oracle is null && lit.RemoveWhere(fitting => fitting.LeastVolts > 0) > 0 && Held(found, lit) is { } least)
        {
            // With all of them on it does not run. Those light up that would have their volts if none of them drew any.
            lit.UnionWith(found.Fittings.Where(fitting =>
                CanDraw(found, fitting) && fitting.LeastVolts <= VoltsAt(least, fitting)));
            oracle = Settle(found, lit);
        }

        if (oracle is null) return null;
        foreach (var fitting in found.Fittings.Where(fitting => fitting.LeastVolts > 0 && CanDraw(found, fitting)))
        {
            var share = VoltsAt(oracle, fitting) / fitting.LeastVolts;
            if (lit.Contains(fitting) ? share < 1 + Clearly : share > 1 - Clearly)
                throw new InvalidOperationException($"{fitting.Node} is neither clearly lit nor clearly dark:\n{oracle.Deck}");
        }

        return oracle;
    }

    // Lets fittings go dark until all that are lit have their volts.
    private static Oracle? Settle(AsFound found, HashSet<FoundFitting> lit)
    {
        while (true)
        {
            var oracle = Held(found, lit);
            if (oracle is null) return null;
            if (lit.RemoveWhere(fitting => VoltsAt(oracle, fitting) < fitting.LeastVolts) == 0) return oracle;
        }
    }

    // The driver holds its volts, or else its greatest amps or watts.
    private static Oracle? Held(AsFound found, HashSet<FoundFitting> lit)
    {
        var driver = found.Model.Driver;
        foreach (var held in Enum.GetValues<NetworkHeld>())
        {
            if (held == NetworkHeld.Amps && driver.MostAmps is null) continue;
            if (held == NetworkHeld.Watts && driver.MostWatts is null) continue;
            if (NetworkDeck.Read(found, held, lit) is not { } oracle || IsSham(oracle, lit)) continue;
            var (volts, amps) = (Math.Abs(oracle.DriverVolts), Math.Abs(oracle.DriverMilliamps) / 1000);
            var isWithin = volts <= found.DriverValue * Rounding
                && amps <= (driver.MostAmps ?? double.PositiveInfinity) * Rounding
                && volts * amps <= (driver.MostWatts ?? double.PositiveInfinity) * Rounding;
            if (isWithin || found.IsDead) return oracle;
        }

        return null;
    }

    // From the no-load volts the search comes straight to the highest solution where there is one. Where it had to feel its
    // way instead and has a constant power drawn below half of the driver's volts, that is a solution on paper only.
    private static bool IsSham(Oracle oracle, HashSet<FoundFitting> lit) => !oracle.IsDirect && lit.Any(fitting =>
        fitting.IsOfConstantPower && VoltsAt(oracle, fitting) < Math.Abs(oracle.DriverVolts) / 2);

    private static double VoltsAt(Oracle oracle, FoundFitting fitting) =>
        Math.Abs(oracle.Readings[(fitting.Node, MeasuredQuantity.VoltsDc)]);

    private static bool CanDraw(AsFound found, FoundFitting fitting) =>
        !fitting.IsOpen && !found.IsDead && found.IsFed(fitting.Node)
            && (!found.IsReversed || fitting.BypassVolts == 0 || fitting.Recorded?.Load == LoadKind.Resistive);
}

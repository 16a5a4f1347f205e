namespace FleetLight.Electrics.Tests.Spice;

/// <summary>Asks the simulator how a loop runs: what its driver holds follows from what is found.</summary>
internal static class SeriesOracle
{
    // Less than this is no current, A.
    private const double LeastAmps = 1e-7;

    private const double Rounding = 1 + 1e-9;

    /// <summary>What a loop reads; null where the simulator finds nothing within the driver's limits.</summary>
    /// <remarks>
    /// A loop's volts rise with its current, so just one of current, volts and watts can be held without passing the
    /// limits of the other two. Where the greatest volts drive no current the output is open.
    /// </remarks>
    public static Oracle? Solve(AsFound found)
    {
        var most = found.Model.Driver;
        foreach (var held in new[] { SeriesHeld.Current, SeriesHeld.Volts, SeriesHeld.Watts })
        {
            if (held == SeriesHeld.Watts && most.MostWatts is null) continue;
            if (SeriesDeck.Read(found, held) is not { } oracle) continue;
            var (volts, amps) = (Math.Abs(oracle.DriverVolts), Math.Abs(oracle.DriverMilliamps) / 1000);
            if (held == SeriesHeld.Volts && amps < LeastAmps && !found.IsDead)
                return SeriesDeck.Read(found, SeriesHeld.OpenVolts);
            if (volts <= most.MostVolts * Rounding && amps <= found.DriverValue / 1000 * Rounding
                && !(volts * amps > most.MostWatts * Rounding)) return oracle;
        }

        return null;
    }
}

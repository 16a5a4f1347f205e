namespace FleetLight.Electrics.Tests.Spice;

/// <summary>
/// The simulator itself, and our way of asking it, against circuits that are solved by hand. What agrees with it is
/// worth no more than this.
/// </summary>
public class OracleTests
{
    /// <summary>By V² − V0·V + P·R = 0 (algebra) it has 11.0990195 V; V0²/4R = 72 W is the most.</summary>
    [Theory]
    [InlineData(20, 11.0990195135928)]
    [InlineData(71.9, 6.2236067977500)]
    [InlineData(73, null)]
    public void One_constant_power_load_behind_half_an_ohm(double watts, double? volts)
    {
        Ngspice.Need();
        var deck = new Deck("12 V, half an ohm", 1e-9);
        deck.VoltageSource("source", Deck.Ground, 12);
        deck.Resistor("source", "load", 0.5);
        deck.CurrentByVolts("load", Deck.Ground, v => $"{watts}/{v}");
        deck.StartFrom("load", 12);
        Close(volts, deck.Solve()?.Volts(deck.Node("load")), 1e-8);
    }

    /// <summary>12 V, 3 + 5 + 7 + 6 + 4 W on six nodes of 2.5 mm² class 5; by a backward and forward sweep.</summary>
    [Fact]
    public void Six_nodes_at_12_V()
    {
        Ngspice.Need();
        var deck = new Deck("12 V, six nodes", 1e-9);
        var source = deck.VoltageSource("n0", Deck.Ground, 12);
        foreach (var (from, to, metres) in new[]
            { (0, 1, 15), (1, 2, 10), (2, 3, 8), (1, 4, 12), (4, 5, 6), (4, 6, 7) })
            deck.Resistor($"n{from}", $"n{to}", 2 * 0.00798 * metres);
        foreach (var (node, watts) in new[] { (1, 3), (2, 5), (3, 7), (5, 6), (6, 4) })
        {
            deck.CurrentByVolts($"n{node}", Deck.Ground, v => $"{watts}/{v}");
            deck.StartFrom($"n{node}", 12);
        }

        var point = deck.Solve();
        Assert.NotNull(point);
        double[] volts =
            [11.46932713308, 11.29912524454, 11.21946368269, 11.29912645956, 11.24804558549, 11.2594370864];
        for (var n = 0; n < volts.Length; n++) Close(volts[n], point.Volts(deck.Node($"n{n + 1}")), 1e-9);
        Close(2.21667864209, -point.Amps(source), 1e-9);
    }

    /// <summary>
    /// 350 mA through six luminaires of 2.70 V + 0.80 Ω, 40 m out and back on 1.5 mm² class 5 (1.064 Ω): the sum by
    /// hand is 18.2524 V, with one shorted 15.2724 V. At 17.96981891 V the straight lines meet at 301.8108652 mA.
    /// </summary>
    [Theory]
    [InlineData(6, null, 18.2524, 0.35)]
    [InlineData(5, null, 15.2724, 0.35)]
    [InlineData(6, 17.96981891, 17.96981891, 0.3018108652)]
    public void A_series_loop_of_straight_luminaires(int luminaires, double? limit, double volts, double amps)
    {
        Ngspice.Need();
        var deck = new Deck("350 mA loop", 1e-9);
        if (limit is { } most) deck.VoltageSource("out", Deck.Ground, most);
        else deck.CurrentSource(Deck.Ground, "out", 0.35);
        deck.Resistor("out", "l0", 0.532);
        for (var n = 0; n < luminaires; n++)
        {
            deck.VoltageSource($"l{n}", $"m{n}", 2.7);
            deck.Resistor($"m{n}", $"l{n + 1}", 0.8);
        }

        var meter = deck.VoltageSource($"l{luminaires}", "back", 0);
        deck.Resistor("back", Deck.Ground, 0.532);
        var point = deck.Solve();
        Assert.NotNull(point);
        Close(volts, point.Volts(deck.Node("out")), 1e-9);
        Close(amps, point.Amps(meter), 1e-9);
        Close(0.532 * amps, point.Volts(deck.Node("back")), 1e-9);
    }

    /// <summary>
    /// Shockley's relation with 1.3e-16 A, ideality 3 and 0.6 Ω, solved by hand with the CODATA 2014 constants that
    /// ngspice has; at 25 °C, so that the emission voltage is three times 25.6926 mV.
    /// </summary>
    [Theory]
    [InlineData(0.35, 2.9485074975)]
    [InlineData(0.5, 3.0659991858)]
    [InlineData(0.7, 3.2119336957)]
    public void A_diode_follows_Shockley(double amps, double volts)
    {
        Ngspice.Need();
        var deck = new Deck("one LED", 1e-9);
        deck.CurrentSource(Deck.Ground, "anode", amps);
        deck.Diode("anode", Deck.Ground, 3 * 1.38064852e-23 / 1.6021766208e-19 * 298.15, 1.3e-16, 0.6);
        Close(volts, deck.Solve()?.Volts(deck.Node("anode")), 1e-8);
    }

    [Fact]
    public void A_deck_that_ngspice_cannot_read_is_an_error_and_no_collapse()
    {
        Ngspice.Need();
        Assert.Throws<InvalidOperationException>(() => Ngspice.Solve("* wrong\nV1 a 0 DC 12\nR1 a 0\n.op\n.end\n"));
        Assert.Throws<InvalidOperationException>(() => Ngspice.Solve("* wrong\nV1 a 0 DC 12\nQ1 a\n.op\n.end\n"));
    }

    private static void Close(double? expected, double? actual, double within)
    {
        if (expected is { } value) Assert.Equal(value, Assert.NotNull(actual), within);
        else Assert.Null(actual);
    }
}

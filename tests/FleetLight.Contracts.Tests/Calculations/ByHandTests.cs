using System.Text.Json.Nodes;

namespace FleetLight.Contracts.Tests.Calculations;

/// <summary>The approved answers are what a calculation by hand gives, and the descriptions say so.</summary>
public class ByHandTests
{
    /// <summary>
    /// One load of constant power behind a resistance: V² − V0·V + P·R = 0, whose upper root is the working point (textbook
    /// algebra). Resistance from IEC 60228 table 3, class 5, 2.5 mm²: 7.98 Ω/km at 20 °C.
    /// </summary>
    [Fact]
    public void One_load()
    {
        const double ohms = 2 * 31.33 * 7.98 / 1000;
        var volts = (12 + Math.Sqrt(144 - (4 * ohms * 20))) / 2;
        var found = WorkedExample.Of("expected.one-load").Answer["expected"]!;
        Assert.Equal(volts, Number(found["fittings"]![0]!["voltsDc"]!["value"]), 1e-9);
        Assert.Equal(11.099, volts, 5e-4);
        Assert.Equal(20 / volts * 1000, Number(found["driverMilliamps"]!["value"]), 1e-6);
        Assert.Equal(100 * (12 - volts) / 12, Number(found["worstDropPercent"]), 1e-7);
    }

    /// <summary>Maximum power transfer: no more than V0²/4R can pass a resistance (textbook algebra).</summary>
    [Fact]
    public void Collapse()
    {
        var found = WorkedExample.Of("expected.collapse").Answer;
        Assert.Equal("voltage-collapse", (string)found["noAnswer"]!["reason"]!);
        Assert.Equal(144 / (4 * 2 * 31.33 * 7.98 / 1000), Number(found["noAnswer"]!["greatestWatts"]), 1e-4);
        Assert.Null(found["expected"]);
    }

    /// <summary>Forward volts are watts over amps; IEC 60228 table 3, class 5, 1.5 mm²: 13.3 Ω/km at 20 °C.</summary>
    [Fact]
    public void Six_in_series()
    {
        var found = WorkedExample.Of("expected.six-in-series").Answer["expected"]!;
        const double ohms = 2 * 40 * 13.3 / 1000;
        Assert.Equal(ohms, Number(found["cableLoopOhms"]!["value"]), 1e-9);
        Assert.Equal((6 * 0.945 / 0.35) + (0.35 * ohms), Number(found["driverVoltsDc"]!["value"]), 1e-9);
        Assert.Equal(16.572, Number(found["driverVoltsDc"]!["value"]), 5e-4);
    }

    [Fact]
    public void Verdicts()
    {
        var found = WorkedExample.Of("verdict.one-load").Answer["verdicts"]!.AsArray();
        Assert.Equal(["within", "outside", "within", "outside"], found.Select(each => (string)each!["verdict"]!));
        Assert.Equal(0.5, Number(found[3]!["low"]));
    }

    /// <summary>Two more fittings of 2.7 V on a driver of 24 V; forward volts are watts over amps.</summary>
    [Fact]
    public void Two_more_in_series()
    {
        var found = WorkedExample.Of("headroom.two-more").Answer;
        Assert.Equal(24 - (8 * 2.7) - (0.35 * 1.064), Number(found["after"]!["voltsDc"]), 1e-9);
        Assert.Equal("yes-but", (string)found["may"]!);
    }

    /// <summary>
    /// Longest run by the drop it may have: at 5 % of 12 V a load of 10 W takes 10/11.4 A, and the resistance is that of IEC
    /// 60228 tables 1 to 3 at 20 °C.
    /// </summary>
    [Theory]
    [InlineData(0.75, 26.0)]
    [InlineData(2.5, 7.98)]
    [InlineData(6, 3.30)]
    public void Longest_run(double area, double ohmsPerKilometre)
    {
        var found = WorkedExample.Of("headroom.longest-run").Answer["longestRuns"]!.AsArray().Single(run => Number(run!["areaSquareMillimetres"]) == area)!;
        var metres = 0.6 / (10 / 11.4) / (2 * ohmsPerKilometre / 1000);
        Assert.Equal(Math.Floor(10 * metres) / 10, Number(found["lengthMetres"]), 1e-9);
        Assert.Equal("voltage-drop", (string)found["endedBy"]!);
    }

    [Fact]
    public void Fill_of_a_duct()
    {
        var found = WorkedExample.Of("duct-fill.three-cables").Answer;
        Assert.Equal(100 * 3 * 81.0 / 1600, Number(found["fillPercent"]), 1e-9);
        Assert.Equal(100 * ((3 * 81.0) + 400) / 1600, Number(found["more"]![0]!["fillPercent"]), 1e-9);
        Assert.Equal([true, false], found["more"]!.AsArray().Select(each => (bool)each!["fits"]!));
        Assert.Equal(Math.Sqrt((0.45 * 1600) - 243), Number(found["thickestMoreMillimetres"]), 1e-9);
    }

    /// <summary>Weight times friction along a straight, e to the friction times the angle round a bend (capstan relation).</summary>
    [Fact]
    public void Pull_through_a_duct()
    {
        var found = WorkedExample.Of("duct-pull.one-bend").Answer;
        var force = (9.81 * 60 * 0.15 * 0.5 * Math.Exp(0.5 * Math.PI / 2)) + (9.81 * 20 * 0.15 * 0.5);
        Assert.Equal(force, Number(found["forceNewtons"]), 1e-9);
        Assert.Equal(150, Number(found["permittedNewtons"]));
        Assert.Equal(9.81 * 60 * 0.15 * 0.5 * Math.Exp(0.5 * Math.PI / 2) / 0.3, Number(found["sidewallNewtonsPerMetre"]), 1e-9);
    }

    private static double Number(JsonNode? value) => value!.GetValue<double>();
}

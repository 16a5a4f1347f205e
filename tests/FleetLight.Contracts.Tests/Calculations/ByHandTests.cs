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
        Assert.Equal([true, false], found["more"]!.AsArray().Select(each => (bool)each!["goesIn"]!));
        Assert.Equal(Math.Sqrt((0.45 * 1600) - 243), Number(found["thickestMoreMillimetres"]), 1e-9);
    }

    /// <summary>Weight times friction along a straight, e to the friction times the angle round a bend (capstan relation).</summary>
    [Fact]
    public void Pull_through_a_duct()
    {
        var found = WorkedExample.Of("duct-pull.one-bend").Answer;
        const double longer = 9.81 * 60 * 0.15 * 0.5, shorter = 9.81 * 20 * 0.15 * 0.5;
        var bend = Math.Exp(0.5 * Math.PI / 2);
        Assert.Equal((longer * bend) + shorter, Number(found["fromRouteEnd"]!["forceNewtons"]), 1e-9);
        Assert.Equal((shorter * bend) + longer, Number(found["fromRouteBeginning"]!["forceNewtons"]), 1e-9);
        Assert.Equal(longer * bend / 0.3, Number(found["fromRouteEnd"]!["sidewallNewtonsPerMetre"]), 1e-9);
        Assert.Equal(150, Number(found["permittedNewtons"]));
        Assert.Equal("route-beginning", (string)found["better"]!);
    }

    /// <summary>What remains of six fittings of 2.7 V when the current passes one by.</summary>
    [Fact]
    public void One_passed_by()
    {
        var found = WorkedExample.Of("diagnosis.one-passed-by").Answer["diagnosis"]!;
        var likeliest = found["explanations"]![0]!;
        Assert.Equal((5 * 2.7) + (0.35 * 1.064), Number(likeliest["predicted"]![0]!["value"]), 1e-6);
        Assert.Equal(["f3"], likeliest["fittingIds"]!.AsArray().Select(id => (string)id!));
        Assert.InRange(Number(found["groups"]![0]!["probabilityPercent"]), 95, 100);
        Assert.Equal(7, Number(found["readingsUsed"]));
    }

    /// <summary>Entropy of an even choice between six is log2 6 bits; a yes or no about one of them has 0.65 (Shannon).</summary>
    [Fact]
    public void Which_one()
    {
        var found = WorkedExample.Of("next-measurement.which-one").Answer;
        var (look, at) = (found["candidates"]![0]!, found["candidates"]![1]!);
        Assert.Equal(("fitting-lit", "volts-dc"), ((string)look["quantity"]!, (string)at["quantity"]!));
        Assert.InRange(Number(found["openBits"]), Math.Log2(6), Math.Log2(6) + 0.5);
        Assert.InRange(Number(look["bits"]), Math.Log2(6) - 0.5, Number(found["openBits"]));
        Assert.InRange(Number(at["bits"]), 0.5, 0.9);
    }

    /// <summary>
    /// Ten readings on a straight line: every pair rises, so S = 45 and its variance 10·9·25/18 = 125; of all orders only this
    /// one and its reverse are as far off, so p = 2/10! (Kendall).
    /// </summary>
    [Fact]
    public void Slow_rise()
    {
        var found = WorkedExample.Of("drift.slow-rise").Answer["finding"]!;
        Assert.Equal("slow-change", (string)found["shows"]!);
        Assert.Equal(0.02 * 365.25 / 60, Number(found["rate"]!["perYear"]), 1e-9);
        Assert.Equal((45, 125), (Number(found["trend"]!["score"]), Number(found["trend"]!["variance"])));
        Assert.Equal(100 * 2 / 3628800.0, Number(found["trend"]!["probabilityPercent"]), 1e-12);
        // 1.18 Ω on the 541st day, 0.12 Ω more after six steps of 60 days.
        Assert.Equal(new DateTime(2025, 1, 10, 9, 0, 0).AddDays(900), found["crossings"]![0]!["likely"]!.GetValue<DateTime>().ToUniversalTime());
    }

    /// <summary>The mean of the trials lies within the numerical tolerance of what algebra gives for the best estimates.</summary>
    [Fact]
    public void Simulated()
    {
        var fitting = WorkedExample.Of("expected.simulated").Answer["simulated"]!["quantities"]!.AsArray().Single(each => (string)each!["place"]! == "f1")!;
        Assert.Equal(11.099, Number(fitting["mean"]), Number(fitting["tolerance"]));
        Assert.True((bool)fitting["firstOrderIsEnough"]!);
    }

    private static double Number(JsonNode? value) => value!.GetValue<double>();
}

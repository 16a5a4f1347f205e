using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Record.Calculations;

namespace FleetLight.Service.Calculations;

/// <summary>What a circuit should read.</summary>
internal static class ExpectedCalculation
{
    public static readonly Calculation<ExpectedRequest, ExpectedAnswer> Calculation = new()
    {
        Name = "expected",
        Summary = "What a circuit should read, and how sure that is",
        Description =
            "Volts, current and power at the driver, volts at every fitting and place, each with its standard uncertainty, 95 % interval and "
            + "uncertainty budget (GUM, JCGM 100); with the method 'monte-carlo' a simulation beside them (JCGM 101), which says whether the first "
            + "order is enough. A circuit that cannot work is answered with 'noAnswer' and 200. "
            + "By hand, example one-load: 31.33 m of two-core 2.5 mm² class 5 at 20 °C has 2 × 31.33 m × 7.98 mΩ/m = 0.500 Ω (IEC 60228); a load "
            + "of 20 W behind it on 12 V reads V = (12 + √(12² − 4 × 0.500 × 20)) / 2 = 11.099 V and 20 W / 11.099 V = 1.802 A. "
            + "Example ring: fed over two such cables at once, the load has 0.250 Ω before it and reads 11.568 V. "
            + "Example collapse: the same cable carries at most 12² / (4 × 0.500) = 72 W. "
            + "Example six-in-series: six fittings of 0.945 W at 350 mA take 0.945 W / 0.35 A = 2.7 V each; 40 m of 1.5 mm² class 5, out and "
            + "back, has 80 m × 13.3 mΩ/m = 1.064 Ω and drops 0.372 V: 6 × 2.7 V + 0.372 V = 16.572 V.",
        Limits = $"{CalculationLimits.MostFittings:N0} fittings, {CalculationLimits.MostRuns:N0} runs; simulated {CalculationLimits.MostPartsSimulated} of both together.",
        Units = "V DC, mA, W, Ω; drop and loading in %.",
        IsHeavy = request => request.Method == UncertaintyMethod.MonteCarlo || HeavyCircuit.Is(request.Circuit),
        Answer = CalculateExpected.Answer,
    };
}

using FleetLight.Contracts;
using FleetLight.Contracts.Facts;

namespace FleetLight.Record.Tests.Circuits;

/// <summary>
/// Sound series circuits built by chance to a design and read by chance: everything that the design leaves open is drawn, the
/// circuit is worked out by hand here, and a meter errs within its accuracy. Seeded.
/// </summary>
/// <remarks>
/// Volts of an LED: W / I, with the slope and the temperature that the contract of calculations states. Cable: IEC 60228 class 5
/// 1.5 mm², 13.3 mΩ/m at 20 °C, 0.00393 per kelvin (IEC 60028), up to 7 % below the maximum, in ground of 15 ± 5 °C.
/// </remarks>
internal sealed class HealthyVisits(int seed)
{
    private const double Amps = 0.35;
    private const double OhmsPerMetre = 0.0133;
    private const double Tolerance = 0.05;
    private static readonly double[] Watts = [1.0, 1.6, 2.0, 2.6, 3.2];

    private readonly Random random = new(seed);

    /// <summary>A design of 3 to 12 fittings on 350 mA, with one run to the first.</summary>
    public CircuitDesigned Design() => CircuitFacts.Designed(
        driver: CircuitFacts.Driver(tolerance: 100 * Tolerance),
        fittings:
        [
            .. Enumerable.Range(1, random.Next(3, 13)).Select(i => CircuitFacts.Fitting($"F{i}", Watts[random.Next(Watts.Length)], 100 * Tolerance)),
        ],
        runs: [CircuitFacts.Run("R1", "driver", "F1", 5 + (40 * random.NextDouble()))]);

    /// <summary>Volts and current at the driver and volts at three fittings of one circuit built to the design.</summary>
    public ReadingTaken[] Visit(CircuitDesigned design)
    {
        var current = 1 + (Tolerance * Even());
        var kelvin = 8 * Gaussian();
        var ratio = (1 + (0.02614 * Math.Log(current)) + (0.07122 * (current - 1))) * (1 - (0.001 * kelvin));
        double[] volts = [.. design.Fittings.Select(fitting => fitting.RatedWatts * (1 + (Tolerance * Even())) / Amps * ratio)];
        var run = design.Runs[0];
        var ohms = 2 * run.LengthMetres * (1 + (Tolerance * Even())) * OhmsPerMetre
            * (1 - 0.035 + (0.035 * Even())) * (1 + (0.00393 * (-5 + (5 * Gaussian()))));
        var common = Even();
        return
        [
            CircuitFacts.Reading(Shown(volts.Sum() + (ohms * Amps * current), 0.01, 0.03, common)),
            CircuitFacts.Reading(Shown(1000 * Amps * current, 0.015, 3, Even()), ReadingQuantity.Milliamps),
            .. Enumerable.Range(0, 3).Select(i => CircuitFacts.Reading(
                Shown(volts[i], 0.01, 0.03, common), place: ReadingPlaceKind.Fitting, placeId: $"F{i + 1}")),
        ];
    }

    // A quarter of the variance of a meter's error is the same in all its readings of a quantity: what the joint judgement states.
    private double Shown(double value, double share, double digits, double common) =>
        value + (((0.5 * common) + (Math.Sqrt(0.75) * Even())) * ((share * value) + digits));

    private double Even() => (2 * random.NextDouble()) - 1;

    private double Gaussian() =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}

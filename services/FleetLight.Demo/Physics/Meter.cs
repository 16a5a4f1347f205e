using FleetLight.Contracts.Facts;

namespace FleetLight.Demo.Physics;

/// <summary>A meter: its own gain, a count or two of noise, and as many digits as it shows.</summary>
internal sealed class Meter
{
    private readonly bool better;
    private readonly double voltsGain;
    private readonly double milliampsGain;
    private readonly double ohmsGain;

    /// <summary>A meter with drawn errors that keep within its stated accuracy.</summary>
    /// <param name="better">Whether it is a bench-grade one, whose accuracy is recorded with every reading.</param>
    /// <param name="chance">Where the errors come from.</param>
    public Meter(bool better, Chance chance)
    {
        this.better = better;
        var part = better ? 0.4 : 1;
        voltsGain = 1 + (part * chance.Spread(0.003, 0.008));
        milliampsGain = 1 + (part * chance.Spread(0.005, 0.012));
        ohmsGain = 1 + (part * chance.Spread(0.003, 0.008));
    }

    /// <summary>Accuracy on the volts range; none where the crew does not record it.</summary>
    public MeterAccuracy? VoltsAccuracy => better ? new() { PercentOfReading = 0.5, Digits = 2, Resolution = 0.01 } : null;

    /// <summary>Accuracy on the milliamps range.</summary>
    public MeterAccuracy? MilliampsAccuracy => better ? new() { PercentOfReading = 0.8, Digits = 2, Resolution = 1 } : null;

    /// <summary>Accuracy on the ohms range.</summary>
    public MeterAccuracy? OhmsAccuracy => better ? new() { PercentOfReading = 0.8, Digits = 3, Resolution = 0.1 } : null;

    /// <summary>What it shows for a voltage, V.</summary>
    public double Volts(double truth, Chance noise) => Shown(truth * voltsGain, 0.01, noise);

    /// <summary>What it shows for a current, mA.</summary>
    public double Milliamps(double truth, Chance noise) => truth == 0 ? 0 : Shown(truth * milliampsGain, 1, noise);

    /// <summary>What it shows for a resistance, Ω.</summary>
    public double Ohms(double truth, Chance noise) => Shown(truth * ohmsGain, 0.1, noise);

    private static double Shown(double value, double count, Chance noise)
    {
        var counts = Math.Round((value / count) + noise.Spread(0.7, 1.5));
        // Decimal keeps the digits that the meter shows: 12.07 and not 12.070000000000002.
        return Math.Max(0, (double)((decimal)counts * (decimal)count));
    }
}

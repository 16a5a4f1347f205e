namespace FleetLight.Electrics.Tests.Drifts;

/// <summary>Made rows of readings whose truth is known.</summary>
internal sealed record Rows(Random Random)
{
    public static DateTimeOffset Start { get; } = new(2024, 1, 1, 17, 0, 0, TimeSpan.Zero);

    /// <summary>Days between visits.</summary>
    public double EveryDays { get; init; } = 30.4;

    /// <summary>What a sound circuit of this row truly reads at 20 °C.</summary>
    public double Truth { get; init; } = 31.2;

    /// <summary>What it should read by design.</summary>
    public double Expected { get; init; } = 30.8;

    /// <summary>Standard deviation of a reading beyond weather and meter.</summary>
    public double Noise { get; init; } = 0.03;

    /// <summary>Half the yearly swing, K.</summary>
    public double SwingKelvin { get; init; } = 8.5;

    /// <summary>Standard deviation of the day's weather, K.</summary>
    public double WeatherKelvin { get; init; } = 2.5;

    /// <summary>Day of the year on which the row starts, as seen by the season.</summary>
    public double PhaseDays { get; init; }

    /// <summary>Whether the latitude is known, 52° north.</summary>
    public bool Latitude { get; init; }

    /// <summary>Number of meters; each visit takes one by chance. Gains are within 1 %.</summary>
    public int Meters { get; init; } = 1;

    /// <summary>The meter of a visit; by chance where null.</summary>
    public Func<int, int>? MeterOf { get; init; }

    /// <summary>Days by which a visit may come later; where there are any, one visit in four is missed.</summary>
    public double Jitter { get; init; }

    /// <summary>Share of readings that were typed ten times too large.</summary>
    public double GrossErrors { get; init; }

    /// <summary>What the truth changes by, days after the start.</summary>
    public Func<double, double> Change { get; init; } = _ => 0;

    /// <summary>Whether temperatures are recorded.</summary>
    public bool Thermometer { get; init; }

    /// <summary>Limits, half of their width about what is expected.</summary>
    public double HalfWidth { get; init; } = 1.6;

    public DriftSeries Of(int visits)
    {
        // Meters keep within their accuracy of 1 %: rectangular.
        var gains = Enumerable.Range(0, Meters).Select(_ => 1 + (0.01 * ((2 * Random.NextDouble()) - 1))).ToArray();
        return new DriftSeries(MeasuredQuantity.VoltsDc, [.. Enumerable.Range(0, visits).Where(_ => Jitter == 0 || Random.Next(4) > 0).Select(Reading)])
        {
            LowLimit = Expected - HalfWidth,
            HighLimit = Expected + HalfWidth,
            LatitudeDegrees = Latitude ? 52 : null,
        };

        DriftReading Reading(int visit)
        {
            var day = (visit * EveryDays) + (Jitter * Random.NextDouble());
            var celsius = 11 - (SwingKelvin * Math.Cos(2 * Math.PI * (day + PhaseDays - 20) / 365.25)) + (WeatherKelvin * Normal(Random));
            var meter = MeterOf?.Invoke(visit) ?? Random.Next(Meters);
            var volts = (Truth * (1 - (0.001 * (celsius - 20)))) + Change(day) + (Noise * Normal(Random));
            if (Random.NextDouble() < GrossErrors) volts *= 10;
            return new DriftReading(Start.AddDays(day + PhaseDays), Math.Round(volts * gains[meter], 2))
            {
                Expected = Expected,
                MeterId = Meters > 1 ? $"m{meter}" : null,
                Celsius = Thermometer ? celsius : null,
            };
        }
    }

    public static double Normal(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}

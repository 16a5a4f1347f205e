namespace FleetLight.Electrics;

/// <summary>The readings that a diagnosis rests on.</summary>
internal sealed class ReadingSet
{
    private readonly List<MeasuredReading> readings = [];
    private readonly List<double> meterVariances = [];
    private readonly List<double> spans = [];

    /// <summary>How many there are.</summary>
    public int Count => readings.Count;

    /// <summary>One reading.</summary>
    public MeasuredReading this[int i] => readings[i];

    /// <summary>Variance of the meter's error at a reading.</summary>
    public double MeterVariance(int i) => meterVariances[i];

    /// <summary>Width of the span in which the reading might lie if nothing were known, in its unit.</summary>
    public double Span(int i) => spans[i];

    /// <summary>
    /// Takes the last usable readings. Which places and quantities are predicted is asked of the healthy circuit.
    /// </summary>
    /// <param name="given">The readings, oldest first.</param>
    /// <param name="healthy">The circuit as designed.</param>
    /// <param name="volts">Width of the span in which a voltage might lie, V.</param>
    /// <param name="amps">The circuit's current, A.</param>
    public static ReadingSet Of(
        IReadOnlyList<MeasuredReading?>? given, ICircuitState healthy, double volts, double amps)
    {
        var set = new ReadingSet();
        for (var i = (given?.Count ?? 0) - 1; i >= 0 && set.Count < Diagnosis.MostReadings; i--)
        {
            var reading = given![i];
            if (reading is null || !(Math.Abs(reading.Value) <= MeasuredReading.MostValue)) continue;
            var meter = reading.Meter ?? MeterAccuracy.DefaultFor(reading.Quantity);
            if (!meter.IsValid || !healthy.Predicts(reading.Place, reading.Quantity)) continue;
            set.readings.Add(reading);
            var u = meter.StandardUncertaintyAt(reading.Value);
            // A meter without any error would make every prediction infinitely unlikely.
            set.meterVariances.Add(Math.Max(u * u, 1e-12 * (1 + (reading.Value * reading.Value))));
            var span = reading.Quantity switch
            {
                MeasuredQuantity.VoltsDc => volts,
                MeasuredQuantity.Milliamps => 2000 * amps,
                _ => 100,
            };
            set.spans.Add(Math.Max(span, 1.1 * Math.Abs(reading.Value)));
        }

        set.readings.Reverse();
        set.meterVariances.Reverse();
        set.spans.Reverse();
        return set;
    }
}

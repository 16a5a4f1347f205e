using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>
/// The readings that a diagnosis rests on, put in order: one row for each place and quantity, in which repeats are
/// gathered, and one lamp for each fitting that was looked at.
/// </summary>
internal sealed class Evidence
{
    /// <summary>
    /// Share of the meter's variance that repeats have in common: its calibration does not average out. Judgement.
    /// </summary>
    public const double CommonShare = 0.8;

    // No tester of the trade tells less than this from nothing, MΩ.
    private const double SmallestMegohms = 0.001;

    private Evidence(
        ImmutableArray<MeasuredReading> used, ImmutableArray<Row> rows, ImmutableArray<Lamp> lamps,
        ImmutableArray<int> rowOf)
    {
        Used = used;
        Rows = rows;
        Lamps = lamps;
        RowOf = rowOf;
    }

    /// <summary>The readings used, oldest first.</summary>
    public ImmutableArray<MeasuredReading> Used { get; }

    /// <summary>The numbers.</summary>
    public ImmutableArray<Row> Rows { get; }

    /// <summary>What was seen of the fittings.</summary>
    public ImmutableArray<Lamp> Lamps { get; }

    /// <summary>For each reading used its row, or its lamp as −1 − index.</summary>
    public ImmutableArray<int> RowOf { get; }

    /// <summary>Takes the last usable readings.</summary>
    /// <param name="given">The readings, oldest first.</param>
    /// <param name="model">The circuit as recorded.</param>
    /// <param name="sound">The circuit as designed; which places and quantities are predicted is asked of it.</param>
    public static Evidence Of(IReadOnlyList<MeasuredReading?>? given, CircuitModel model, ICircuitState sound)
    {
        var used = Usable(given, model, sound);
        var rows = ImmutableArray.CreateBuilder<Row>();
        var lamps = ImmutableArray.CreateBuilder<Lamp>();
        var rowOf = new int[used.Count];
        var broad = new Broad(model, sound);
        for (var i = 0; i < used.Count; i++)
        {
            var earlier = Earlier(used, i);
            if (earlier >= 0) rowOf[i] = rowOf[earlier];
            else if (used[i].Quantity == MeasuredQuantity.FittingLit)
            {
                lamps.Add(Gather(used, i, IndexOf(model, used[i].Place)));
                rowOf[i] = -lamps.Count;
            }
            else
            {
                rowOf[i] = rows.Count;
                var row = Gather(used, i);
                rows.Add(row with { LogBroad = broad.LogDensity(row) });
            }
        }

        return new Evidence(used.ToImmutable(), rows.ToImmutable(), lamps.ToImmutable(), [.. rowOf]);
    }

    /// <summary>The value of a reading as it is weighed: the logarithm for insulation resistance.</summary>
    public static double Scaled(MeasuredQuantity quantity, MeterAccuracy meter, double value) =>
        quantity == MeasuredQuantity.MegohmsInsulation ? Math.Log(Math.Max(value, LeastMegohms(meter))) : value;

    /// <summary>What a tester can tell from nothing, MΩ.</summary>
    public static double LeastMegohms(MeterAccuracy meter) => Math.Max(meter.LimitAt(0), SmallestMegohms);

    /// <summary>Variance of the meter's error at a value, in the scale of <see cref="Scaled"/>.</summary>
    public static double MeterVariance(MeasuredQuantity quantity, MeterAccuracy meter, double value)
    {
        var u = meter.StandardUncertaintyAt(value);
        if (quantity == MeasuredQuantity.MegohmsInsulation) u /= Math.Max(value, LeastMegohms(meter));
        // A meter without any error would make every prediction infinitely unlikely.
        return Math.Max(u * u, 1e-12 * (1 + (value * value)));
    }

    /// <summary>Index of a fitting by its id; −1 where there is none.</summary>
    public static int IndexOf(CircuitModel model, string? id)
    {
        for (var i = 0; i < model.Fittings.Length; i++)
            if (model.Fittings[i].Id == id) return i;
        return -1;
    }

    // A look at all fittings must not push the meter's readings out.
    private static ImmutableArray<MeasuredReading>.Builder Usable(
        IReadOnlyList<MeasuredReading?>? given, CircuitModel model, ICircuitState sound)
    {
        var used = ImmutableArray.CreateBuilder<MeasuredReading>();
        var (numbers, looks) = (0, 0);
        for (var i = (given?.Count ?? 0) - 1; i >= 0; i--)
        {
            if (given![i] is not { } reading || !IsUsable(reading, model, sound)) continue;
            var fits = reading.Quantity == MeasuredQuantity.FittingLit
                ? looks++ < Diagnosis.MostLooks
                : numbers++ < Diagnosis.MostReadings;
            if (fits) used.Add(reading);
        }

        used.Reverse();
        return used;
    }

    private static bool IsUsable(MeasuredReading reading, CircuitModel model, ICircuitState sound)
    {
        if (!(Math.Abs(reading.Value) <= MeasuredReading.MostValue)) return false;
        if (reading.Meter is { IsValid: false }) return false;
        return reading.Quantity switch
        {
            MeasuredQuantity.FittingLit => reading.Value is 0 or 1 && IndexOf(model, reading.Place) >= 0,
            MeasuredQuantity.MegohmsInsulation => reading.Value >= 0 && reading.Place is not null,
            _ => sound.Predicts(reading.Place, reading.Quantity),
        };
    }

    private static int Earlier(ImmutableArray<MeasuredReading>.Builder used, int i)
    {
        for (var j = 0; j < i; j++)
            if (used[j].Quantity == used[i].Quantity && used[j].Place == used[i].Place) return j;
        return -1;
    }

    // Repeats that differ by more than the meter does say less, not more.
    private static Row Gather(ImmutableArray<MeasuredReading>.Builder used, int first)
    {
        var (quantity, place) = (used[first].Quantity, used[first].Place);
        double sum = 0, squares = 0, meter = 0, least = 0;
        var count = 0;
        for (var i = first; i < used.Count; i++)
        {
            if (used[i].Quantity != quantity || used[i].Place != place) continue;
            var with = used[i].Meter ?? MeterAccuracy.DefaultFor(quantity);
            var value = Scaled(quantity, with, used[i].Value);
            sum += value;
            squares += value * value;
            meter += MeterVariance(quantity, with, used[i].Value);
            least = Math.Max(least, LeastMegohms(with));
            count++;
        }

        var mean = sum / count;
        meter /= count;
        var spread = count > 1 ? Math.Max(0, (squares - (sum * mean)) / (count - 1)) : 0;
        var variance = (meter * (CommonShare + ((1 - CommonShare) / count))) + Math.Max(0, spread - meter);
        return new Row(place, quantity, mean, variance) { LogLeast = Math.Log(least) };
    }

    private static Lamp Gather(ImmutableArray<MeasuredReading>.Builder used, int first, int fitting)
    {
        var (lit, dark) = (false, false);
        for (var i = first; i < used.Count; i++)
        {
            if (used[i].Quantity != MeasuredQuantity.FittingLit || used[i].Place != used[first].Place) continue;
            lit |= used[i].Value == 1;
            dark |= used[i].Value == 0;
        }

        return new Lamp(fitting, lit, dark);
    }
}

/// <summary>A place and quantity with what was read there.</summary>
/// <param name="Place">Where.</param>
/// <param name="Quantity">What.</param>
/// <param name="Value">The reading, or the mean of its repeats; the logarithm of MΩ for insulation.</param>
/// <param name="MeterVariance">Variance of the meter's error in it.</param>
internal readonly record struct Row(string Place, MeasuredQuantity Quantity, double Value, double MeterVariance)
{
    /// <summary>Logarithm of its density where nothing is known of the fault.</summary>
    public double LogBroad { get; init; }

    /// <summary>For insulation, the logarithm of what the tester can tell from nothing: it shows no less.</summary>
    public double LogLeast { get; init; }
}

/// <summary>What was seen of one fitting; seen both ways it says nothing.</summary>
internal readonly record struct Lamp(int Fitting, bool Lit, bool Dark);

using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>Finds the places where an explanation would show most.</summary>
internal static class Elsewhere
{
    private const int Most = 2;

    // How many places are looked at; on larger circuits every second one and so on.
    private const int MostPlaces = 40;

    // Standard uncertainties from which a difference is telling.
    private const double Telling = 3;

    private static readonly MeasuredQuantity[] Quantities =
        [MeasuredQuantity.VoltsDc, MeasuredQuantity.Milliamps, MeasuredQuantity.LoopOhms];

    /// <summary>The most telling figures, best first.</summary>
    /// <param name="evidence">What has been read already.</param>
    /// <param name="sound">The circuit as designed.</param>
    /// <param name="state">The circuit as explained.</param>
    /// <param name="rival">The circuit that it is to be told from.</param>
    public static ImmutableArray<PredictedElsewhere> Of(
        Evidence evidence, ICircuitState sound, ICircuitState state, ICircuitState rival)
    {
        var found = new List<(double Score, PredictedElsewhere Figure)>();
        var parts = new double[state.Inputs];
        var places = sound.Places;
        var stride = (places.Length + MostPlaces - 1) / MostPlaces;
        for (var p = 0; p < places.Length; p += stride)
        {
            foreach (var quantity in Quantities)
            {
                // Current and loop resistance are measured at the driver.
                if (p > 0 && quantity != MeasuredQuantity.VoltsDc) break;
                if (IsRead(evidence, places[p], quantity)) continue;
                if (Figure(places[p], quantity, sound, state, rival, parts) is { } one) found.Add(one);
            }
        }

        return [.. found.OrderByDescending(one => one.Score).Take(Most).Select(one => one.Figure)];
    }

    /// <summary>A figure in words.</summary>
    public static string Says(PredictedElsewhere one)
    {
        var unit = Wording.Unit(one.Quantity);
        var name = Name(one.Place, one.Quantity);
        var than = Plain.Figure(one.Value) == Plain.Figure(one.AsDesigned)
            ? "as designed"
            : $"designed are {Plain.Figure(one.AsDesigned)} {unit}";
        return $"{char.ToUpperInvariant(name[0])}{name[1..]}: about {Plain.Figure(one.Value)} {unit} ({than}).";
    }

    /// <summary>A place and quantity in words.</summary>
    public static string Name(string place, MeasuredQuantity quantity)
    {
        var what = quantity switch
        {
            MeasuredQuantity.VoltsDc => "the volts",
            MeasuredQuantity.Milliamps => "the current",
            MeasuredQuantity.LoopOhms => "the loop resistance",
            MeasuredQuantity.MegohmsInsulation => "the insulation resistance",
            _ => "the light",
        };
        return place == CircuitModel.DriverNode ? $"{what} at the driver" : $"{what} at {place}";
    }

    private static bool IsRead(Evidence evidence, string place, MeasuredQuantity quantity)
    {
        foreach (var row in evidence.Rows)
            if (row.Place == place && row.Quantity == quantity) return true;
        return false;
    }

    private static (double Score, PredictedElsewhere Figure)? Figure(
        string place, MeasuredQuantity quantity, ICircuitState sound, ICircuitState state, ICircuitState rival,
        double[] parts)
    {
        if (!state.Predicts(place, quantity) || !rival.Predicts(place, quantity) || !sound.Predicts(place, quantity))
            return null;
        var designed = sound.Predict(place, quantity, parts);
        var (other, byOther) = With(rival, place, quantity, parts);
        var (value, own) = With(state, place, quantity, parts);
        var score = Math.Abs(value - other) / Math.Sqrt(own + byOther);
        return score >= Telling && double.IsFinite(score) && double.IsFinite(designed)
            ? (score, new PredictedElsewhere(place, quantity, value, Math.Sqrt(own), designed))
            : null;
    }

    private static (double Value, double Variance) With(
        ICircuitState state, string place, MeasuredQuantity quantity, double[] parts)
    {
        var value = state.Predict(place, quantity, parts);
        var variance = Observer.FloorVariance(quantity, value)
            + Evidence.MeterVariance(quantity, MeterAccuracy.DefaultFor(quantity), value);
        foreach (var part in parts) variance += part * part;
        return (value, variance);
    }
}

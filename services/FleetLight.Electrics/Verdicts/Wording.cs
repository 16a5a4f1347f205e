namespace FleetLight.Electrics;

/// <summary>Words for a verdict.</summary>
internal static class Wording
{
    public static string Of(VerdictKind kind, MeasuredReading reading, double expected, double half)
    {
        var unit = Unit(reading.Quantity);
        var side = reading.Value > expected ? "above" : "below";
        var comparison =
            $"{Plain.Figure(reading.Value)} {unit} against {Plain.Figure(expected)} ± {Plain.Figure(half)} {unit}";
        return kind switch
        {
            VerdictKind.Within => $"As it should be: {comparison}.",
            VerdictKind.Doubtful => $"Somewhat {side} what it should be: {comparison}. Measure again.",
            _ => $"Well {side} what it should be: {comparison}. Tolerances do not explain it.",
        };
    }

    public static string Unit(MeasuredQuantity quantity) => quantity switch
    {
        MeasuredQuantity.VoltsDc => "V",
        MeasuredQuantity.Milliamps => "mA",
        MeasuredQuantity.LoopOhms => "Ω",
        _ => "MΩ",
    };
}

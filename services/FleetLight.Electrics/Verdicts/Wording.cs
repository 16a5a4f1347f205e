using System.Globalization;

namespace FleetLight.Electrics;

/// <summary>Words for a verdict.</summary>
internal static class Wording
{
    // A risk of passing a bad circuit that is worth a sentence.
    private const double WorthSaying = 0.02;

    public static string Of(
        VerdictKind kind, MeasuredReading reading, double expected, in Judgement judged, double asDesigned)
    {
        var unit = Unit(reading.Quantity);
        var side = reading.Value > expected ? "above" : "below";
        var comparison =
            $"{Plain.Figure(reading.Value)} {unit} against {Plain.Figure(expected)} ± {Plain.Figure(judged.Half95)} {unit}";
        return kind switch
        {
            VerdictKind.Within => $"As it should be: {comparison}.{Remaining(judged.RiskOfPassingBad)}",
            VerdictKind.Doubtful when Math.Abs(reading.Value - expected) <= judged.Half95 =>
                $"Near what it should be: {comparison}, but this measurement is too coarse to call it right. "
                + "Measure with a better meter or at another place.",
            VerdictKind.Doubtful =>
                $"Somewhat {side} what it should be: {comparison}. {Chance(asDesigned)} Measure again.",
            _ => $"Well {side} what it should be: {comparison}. {Failing(judged.RiskOfFailingGood)}{Chance(asDesigned)}",
        };
    }

    public static string OfAll(
        VerdictKind kind, int count, double farther, double asDesigned, MeasuredReading least)
    {
        var fits = $"Least in line with the others: {Plain.Figure(least.Value)} {Unit(least.Quantity)} at {least.Place}.";
        return kind switch
        {
            VerdictKind.Within =>
                $"Together as they should be: of 100 sound circuits, {Whole(100 * farther)} read farther off in these "
                + $"{count} things.",
            VerdictKind.Doubtful when farther >= 0.05 =>
                $"Together near what they should be, but too coarse to call them right. {Chance(asDesigned)}",
            VerdictKind.Doubtful =>
                $"Together somewhat off: of 100 sound circuits, {Whole(100 * farther)} read farther off. {fits} "
                + $"{Chance(asDesigned)} Measure again.",
            _ => $"Together well off: fewer than one sound circuit in {Whole(1 / Math.Max(farther, 1e-6))} reads farther "
                + $"off. {fits} {Chance(asDesigned)}",
        };
    }

    public static string Unit(MeasuredQuantity quantity) => quantity switch
    {
        MeasuredQuantity.VoltsDc => "V",
        MeasuredQuantity.Milliamps => "mA",
        MeasuredQuantity.LoopOhms => "Ω",
        _ => "MΩ",
    };

    private static string Whole(double value) => value.ToString("0", CultureInfo.InvariantCulture);

    private static string Remaining(double risk) => risk < WorthSaying
        ? ""
        : $" Of 100 circuits that this measurement calls so, about {Whole(100 * risk)} are not as designed.";

    private static string Failing(double risk) => risk > 0
        ? $"At most one sound circuit in {Whole(1 / risk)} reads so far off. "
        : "";

    private static string Chance(double asDesigned) => asDesigned switch
    {
        < 0.01 => "It is hardly as designed: probability under 1 %.",
        > 0.99 => "Probability that it is as designed: over 99 %.",
        _ => $"Probability that it is as designed: {Whole(100 * asDesigned)} %.",
    };
}

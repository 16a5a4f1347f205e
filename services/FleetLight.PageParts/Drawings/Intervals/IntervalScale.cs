using FleetLight.Contracts.Views;

namespace FleetLight.PageParts.Drawings.Intervals;

/// <summary>Where what was expected and what was measured stand on one line, 0 at its left end and 1 at its right.</summary>
/// <param name="Low">Lower end of the interval.</param>
/// <param name="High">Upper end of the interval.</param>
/// <param name="Expected">The best estimate.</param>
/// <param name="Measured">What was measured; at the end of the line where it lies beyond.</param>
/// <param name="Beyond">−1 where what was measured lies left of the line, 1 right of it, 0 on it.</param>
public sealed record IntervalScale(double Low, double High, double Expected, double? Measured, int Beyond)
{
    // So many half widths of the interval fit left and right of it: farther off nobody reads a distance from the line.
    private const double MostHalfWidths = 5;

    private const double Margin = 1.25;

    /// <summary>The line of an expected value.</summary>
    /// <param name="expected">What should be read.</param>
    /// <param name="measured">What was read; none where nothing was read yet.</param>
    public static IntervalScale Of(ExpectedValue expected, double? measured)
    {
        ArgumentNullException.ThrowIfNull(expected);
        var half = Math.Max((expected.High - expected.Low) / 2, Math.Max(1e-9, Math.Abs(expected.Value) * 1e-6));
        var off = measured is { } read && double.IsFinite(read) ? Math.Abs(read - expected.Value) : 0;
        var reach = Math.Min(Math.Max(off, half) * Margin, half * MostHalfWidths);
        var beyond = measured is { } value && Math.Abs(value - expected.Value) > reach ? Math.Sign(value - expected.Value) : 0;
        return new IntervalScale(
            At(expected.Low), At(expected.High), At(expected.Value), measured is { } known && double.IsFinite(known) ? At(known) : null, beyond);

        double At(double figure) => Math.Clamp(((figure - expected.Value) / reach / 2) + 0.5, 0, 1);
    }
}

using System.Globalization;

namespace FleetLight.Electrics;

/// <summary>Plain text that reads the same on every machine.</summary>
internal static class Plain
{
    /// <summary>
    /// A number with about three significant digits, never in exponents, with a point as decimal sign.
    /// </summary>
    public static string Figure(double value)
    {
        var format = Math.Abs(value) switch
        {
            >= 100 => "0",
            >= 10 => "0.0",
            >= 0.1 or 0 => "0.00",
            _ => "0.0000",
        };
        return value.ToString(format, CultureInfo.InvariantCulture);
    }
}

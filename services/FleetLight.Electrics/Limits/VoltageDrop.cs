using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>Where an installation's low-voltage supply comes from.</summary>
public enum SupplyOwner
{
    /// <summary>The public low-voltage network.</summary>
    Public,

    /// <summary>A source of the installation's own, such as its own transformer station.</summary>
    Private,
}

/// <summary>What a mains circuit feeds.</summary>
public enum CircuitUse
{
    /// <summary>Lighting.</summary>
    Lighting,

    /// <summary>Anything else.</summary>
    Other,
}

/// <summary>
/// Voltage drop of two-core cable, and the drops that are permitted or usual. Advice, never compliance.
/// </summary>
public static class VoltageDrop
{
    /// <summary>
    /// Drop for lighting from a public supply, % of nominal, from the origin of the installation on the mains side (IEC
    /// 60364-5-52 table G.52.1, informative). Some countries have other figures, such as 4 % in all (HD 60364-5-52).
    /// </summary>
    public const double MostLightingPercent = 3;

    /// <summary>The same for other uses, % (same table).</summary>
    public const double MostOtherPercent = 5;

    /// <summary>Drop for lighting from a private supply, % (same table).</summary>
    public const double MostLightingPrivatePercent = 6;

    /// <summary>The same for other uses, % (same table).</summary>
    public const double MostOtherPrivatePercent = 8;

    /// <summary>From this length on the table lets the drop be greater, m.</summary>
    public const double LongFromMetres = 100;

    /// <summary>By how much, % for each metre beyond (same table).</summary>
    public const double LongerPercentPerMetre = 0.005;

    /// <summary>By how much at most, % (same table).</summary>
    public const double LongerMostPercent = 0.5;

    /// <summary>Where these figures are published.</summary>
    public const string Source = "IEC 60364-5-52 table G.52.1 (informative)";

    /// <summary>
    /// Drop that is usual at most from a 12 or 24 V driver to the last fitting, %. Common practice; a trade table of
    /// 2006 for 12 and 24 V has the same figure, and no standard that says it was found.
    /// </summary>
    public const double UsualExtraLowVoltagePercent = 5;

    /// <summary>What that figure rests on.</summary>
    public const string UsualSource = "common practice, no source";

    /// <summary>
    /// Resistivity that IEC 60364-5-52 Annex G takes for copper in normal service, Ω·mm²/m: 1.25 times that at 20
    /// °C.
    /// </summary>
    public const double AnnexGResistivity = 0.0225;

    /// <summary>The drop that the table takes as the most on the mains side, % of nominal.</summary>
    /// <param name="supply">Where the supply comes from.</param>
    /// <param name="use">What the circuit feeds.</param>
    /// <param name="lengthMetres">Length of the main wiring, m; 0 to 100,000.</param>
    /// <returns>Null where the length is out of range or a kind is unknown.</returns>
    public static double? MostPercent(SupplyOwner supply, CircuitUse use, double lengthMetres)
    {
        double? most = (supply, use) switch
        {
            (SupplyOwner.Public, CircuitUse.Lighting) => MostLightingPercent,
            (SupplyOwner.Public, CircuitUse.Other) => MostOtherPercent,
            (SupplyOwner.Private, CircuitUse.Lighting) => MostLightingPrivatePercent,
            (SupplyOwner.Private, CircuitUse.Other) => MostOtherPrivatePercent,
            _ => null,
        };
        if (!(lengthMetres is >= 0 and <= 100_000)) return null;
        return most + Math.Clamp((lengthMetres - LongFromMetres) * LongerPercentPerMetre, 0, LongerMostPercent);
    }

    /// <summary>Drop of two-core cable at the IEC 60228 maximum resistance, mV per ampere and metre.</summary>
    /// <param name="conductorClass">Conductor class.</param>
    /// <param name="areaSquareMillimetres">Conductor area, one of the standard areas, mm².</param>
    /// <param name="celsius">Conductor temperature, °C; −60 to 150.</param>
    /// <returns>Null where the area is not a standard one or the temperature is out of range.</returns>
    public static double? MillivoltsPerAmpereMetre(
        ConductorClass conductorClass, double areaSquareMillimetres, double celsius) =>
        celsius is >= -60 and <= 150
        && ConductorResistance.TryOhmsPerKilometreAt20(conductorClass, areaSquareMillimetres, out var ohms)
            ? 2 * ConductorResistance.AtTemperature(ohms, celsius)
            : null;

    /// <summary>
    /// Drop of a two-core direct-current run by the simplified formula of IEC 60364-5-52 Annex G, V: twice the
    /// resistivity times length times current, divided by area.
    /// </summary>
    /// <param name="lengthMetres">Length of the cable, m; 0 or more.</param>
    /// <param name="areaSquareMillimetres">Conductor area, mm²; above 0.</param>
    /// <param name="amps">Current, A; 0 or more.</param>
    /// <returns>Null where an input is out of range.</returns>
    public static double? AnnexGVolts(double lengthMetres, double areaSquareMillimetres, double amps)
    {
        var volts = 2 * AnnexGResistivity * lengthMetres * amps / areaSquareMillimetres;
        return lengthMetres >= 0 && areaSquareMillimetres > 0 && amps >= 0 && double.IsFinite(volts) ? volts : null;
    }
}

namespace FleetLight.Contracts.Calculations;

/// <summary>The greatest sizes that a calculation takes.</summary>
public static class CalculationLimits
{
    /// <summary>Most bytes in one request.</summary>
    public const int MostBytes = 4 * 1024 * 1024;

    /// <summary>Most fittings of a circuit.</summary>
    public const int MostFittings = 10_000;

    /// <summary>Most cable runs of a circuit, and with them places.</summary>
    public const int MostRuns = 10_000;

    /// <summary>Most readings that are judged at once.</summary>
    public const int MostReadings = 200;

    /// <summary>Most fittings and runs of a circuit to which fittings are to be added.</summary>
    public const int MostPartsAddedTo = 1000;

    /// <summary>Most fittings that are to be added.</summary>
    public const int MostAdded = 200;

    /// <summary>Most runs whose spare cores are used or stated.</summary>
    public const int MostSpare = 1000;

    /// <summary>Most wattages of a catalogue of fittings.</summary>
    public const int MostCatalogueWatts = 64;

    /// <summary>Most kinds of cable in a duct, and most cables asked about.</summary>
    public const int MostCableKinds = 100;

    /// <summary>Most stretches of a duct route.</summary>
    public const int MostStretches = 1000;
}

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

    /// <summary>Most fittings and runs together of a circuit whose readings are judged together.</summary>
    public const int MostPartsJudgedTogether = 500;

    /// <summary>Most fittings and runs together of a circuit that is simulated.</summary>
    public const int MostPartsSimulated = 500;

    /// <summary>Most fittings, and most runs, of a circuit that is diagnosed.</summary>
    public const int MostPartsDiagnosed = 200;

    /// <summary>Most readings that a diagnosis uses: the last so many.</summary>
    public const int MostReadingsUsed = 32;

    /// <summary>Most other driver outputs that a diagnosis looks at.</summary>
    public const int MostDrivers = 16;

    /// <summary>Most places where a meter can be put.</summary>
    public const int MostPlaces = 400;

    /// <summary>Most readings that are looked through for drift.</summary>
    public const int MostDriftReadings = 500;

    /// <summary>Most recorded works that drift is parted by.</summary>
    public const int MostWorks = 50;

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

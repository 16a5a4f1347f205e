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

    /// <summary>Most kinds of cable in a duct, and most cables asked about.</summary>
    public const int MostCableKinds = 100;

    /// <summary>Most stretches of a duct route.</summary>
    public const int MostStretches = 1000;
}

namespace FleetLight.Electrics;

/// <summary>The wattages that a fitting may have.</summary>
internal static class Catalogue
{
    private const int Most = 64;

    /// <summary>The wattages of the catalogue and of the circuit itself, ascending, each once.</summary>
    public static double[] Of(CircuitModel model, DiagnosisOptions options) =>
    [
        .. options.CatalogueWatts.OrEmpty()
            .Where(CircuitCheck.IsWattage)
            .Concat(model.Fittings.Select(fitting => fitting.RatedWatts))
            .Distinct().Take(Most).Order(),
    ];
}

using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>
/// A circuit, sound or with a fault, that predicts readings and how they depend on what is uncertain.
/// </summary>
internal interface ICircuitState
{
    /// <summary>How many independent uncertain inputs the predictions depend on.</summary>
    int Inputs { get; }

    /// <summary>The places whose readings may be predicted: "driver", then fittings, then boxes.</summary>
    ImmutableArray<string> Places { get; }

    /// <summary>Whether a quantity at a place is predicted.</summary>
    bool Predicts(string? place, MeasuredQuantity quantity);

    /// <summary>The prediction, or NaN where there is none.</summary>
    /// <param name="place">Where.</param>
    /// <param name="quantity">What.</param>
    /// <param name="parts">
    /// Receives the change of the prediction by one standard uncertainty of each input; zeroed on entry. Empty where only
    /// the prediction is wanted.
    /// </param>
    double Predict(string place, MeasuredQuantity quantity, Span<double> parts);

    /// <summary>
    /// How much of its rating a fitting of the model gets: its current (constant current) or its power (constant
    /// voltage) as a share of the rated one; 0 where it is dark.
    /// </summary>
    /// <param name="fitting">Index of the fitting in the model.</param>
    double LitShare(int fitting);
}

/// <summary>Where the inputs stand that both kinds of circuit share.</summary>
/// <remarks>
/// After the shared ones follow one per fitting of the model (its power), one per run of the model (its length), and a
/// last one for the power of fittings that are not in the model.
/// </remarks>
internal static class Input
{
    public const int DriverOutput = 0;
    public const int FittingTemperature = 1;
    public const int Conductor = 2;
    public const int Temperature = 3;
    public const int FirstFitting = Temperature + Cable.TemperatureGroups;

    /// <summary>How many inputs a circuit has.</summary>
    public static int Count(CircuitModel model) => FirstFitting + model.Fittings.Length + Runs(model) + 1;

    /// <summary>Position of a run's length.</summary>
    public static int OfRun(CircuitModel model, int run) => FirstFitting + model.Fittings.Length + run;

    /// <summary>Position of the power of fittings that are not in the model.</summary>
    public static int OfAdded(CircuitModel model) => FirstFitting + model.Fittings.Length + Runs(model);

    private static int Runs(CircuitModel model) => model.Runs.IsDefault ? 0 : model.Runs.Length;
}

namespace FleetLight.Electrics;

/// <summary>
/// A circuit, sound or with a fault, that predicts readings and how they depend on what is uncertain.
/// </summary>
internal interface ICircuitState
{
    /// <summary>How many independent uncertain inputs the predictions depend on.</summary>
    int Inputs { get; }

    /// <summary>Whether a quantity at a place is predicted.</summary>
    bool Predicts(string? place, MeasuredQuantity quantity);

    /// <summary>The prediction, or NaN where there is none.</summary>
    /// <param name="place">Where.</param>
    /// <param name="quantity">What.</param>
    /// <param name="parts">
    /// Receives the change of the prediction by one standard uncertainty of each input; zeroed on entry.
    /// </param>
    double Predict(string place, MeasuredQuantity quantity, Span<double> parts);
}

/// <summary>Where the inputs stand that both kinds of circuit share.</summary>
internal static class Input
{
    public const int DriverOutput = 0;
    public const int FittingTemperature = 1;
    public const int Conductor = 2;
    public const int Temperature = 3;
    public const int FirstFitting = Temperature + Cable.TemperatureGroups;
}

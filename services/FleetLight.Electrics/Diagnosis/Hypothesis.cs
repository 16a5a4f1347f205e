namespace FleetLight.Electrics;

/// <summary>One fault in one place, weighed against the readings.</summary>
internal sealed record Hypothesis(FaultKind Kind, double LogWeight, Prediction Prediction, Likelihood Likelihood)
{
    /// <summary>Index of the fitting; −1 where it is about none.</summary>
    public int Fitting { get; init; } = -1;

    /// <summary>Index of the run; −1 where it is about none.</summary>
    public int Run { get; init; } = -1;

    /// <summary>
    /// The figure that belongs to the kind: watts, ohms, length factor, milliamps or volts; NaN where none.
    /// </summary>
    public double Figure { get; init; } = double.NaN;

    /// <summary>Whether the wattage was found from the readings and not in a catalogue.</summary>
    public bool FreeFigure { get; init; }

    /// <summary>Whether a reversed fitting is taken to have a diode that carries the current past it.</summary>
    public bool Bypassed { get; init; }
}

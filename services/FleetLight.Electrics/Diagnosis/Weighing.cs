namespace FleetLight.Electrics;

/// <summary>Collects hypotheses, each with its prior and the density that it gives the readings.</summary>
internal sealed class Weighing(ReadingSet readings)
{
    private const int Improvements = 4;

    /// <summary>All hypotheses so far.</summary>
    public List<Hypothesis> All { get; } = [];

    /// <summary>The readings.</summary>
    public ReadingSet Readings => readings;

    /// <summary>Adds a hypothesis that predicts by a circuit's state.</summary>
    public void Add(Hypothesis template, double prior, ICircuitState? state)
    {
        if (state is not null) Add(template, prior, Prediction.From(state, readings));
    }

    /// <summary>Adds a hypothesis with a ready prediction.</summary>
    public void Add(Hypothesis template, double prior, Prediction prediction)
    {
        if (!(prior > 0) || !double.IsFinite(prior)) return;
        var likelihood = Likelihood.Of(prediction, readings);
        All.Add(template with
        {
            LogWeight = Math.Log(prior) + likelihood.LogDensity,
            Prediction = prediction,
            Likelihood = likelihood,
        });
    }

    /// <summary>
    /// Adds a hypothesis with one free figure: the figure that fits best, weighed by how much of its prior the readings
    /// leave (Laplace's approximation), so that a fault that can explain anything is not preferred to one that explains
    /// just this.
    /// </summary>
    /// <param name="template">The hypothesis.</param>
    /// <param name="prior">Prior of the whole family.</param>
    /// <param name="least">Least figure.</param>
    /// <param name="most">Greatest figure.</param>
    /// <param name="start">Where to begin, between the two.</param>
    /// <param name="priorDensity">Prior density of the figure within the family.</param>
    /// <param name="stateAt">The circuit with the figure; null where it has no operating point.</param>
    public void AddFamily(
        Hypothesis template, double prior, double least, double most, double start,
        Func<double, double> priorDensity, Func<double, ICircuitState?> stateAt)
    {
        var figure = start;
        double curvature = 0;
        var step = (most - least) * 1e-4;
        var direction = new double[readings.Count];
        for (var i = 0; i < Improvements; i++)
        {
            var near = figure + step <= most ? figure + step : figure - step;
            if (stateAt(figure) is not { } here || stateAt(near) is not { } there) return;
            var at = Prediction.From(here, readings);
            var beside = Prediction.From(there, readings);
            for (var k = 0; k < direction.Length; k++) direction[k] = (beside.Mean[k] - at.Mean[k]) / (near - figure);
            (var pull, curvature) = Likelihood.Along(at, readings, direction);
            if (!(curvature > 0)) break;
            var better = Math.Clamp(figure + (pull / curvature), least, most);
            var settled = Math.Abs(better - figure) < step;
            figure = better;
            if (settled) break;
        }

        var left = curvature > 0 ? Math.Sqrt(2 * Math.PI / curvature) * priorDensity(figure) : 1;
        Add(template with { Figure = figure }, prior * Math.Min(1, left), stateAt(figure));
    }
}

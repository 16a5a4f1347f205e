using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>A model as a simulation sees it.</summary>
/// <param name="deviations">How far each input is from its best estimate, in its standard uncertainties.</param>
/// <param name="outputs">Receives the outputs.</param>
/// <returns>False where the model has no answer for these inputs.</returns>
internal delegate bool TrialModel(ReadOnlySpan<double> deviations, Span<double> outputs);

/// <summary>
/// Propagates distributions by simulation (JCGM 101), block after block until the results are stable (clause 7.9).
/// </summary>
internal sealed class MonteCarlo
{
    /// <summary>Trials of one block, and the least number of blocks.</summary>
    /// <remarks>JCGM 101 clause 7.9.4: 100/(1 − p), and no less than 10,000.</remarks>
    public const int Block = 10_000;

    private const int LeastBlocks = 2;

    private readonly TrialModel model;
    private readonly ImmutableArray<InputShape> inputs;
    private readonly ulong seed;
    private readonly List<double>[] values;
    private readonly Running[] running;

    private MonteCarlo(TrialModel model, ImmutableArray<InputShape> inputs, int outputs, ulong seed)
    {
        this.model = model;
        this.inputs = inputs;
        this.seed = seed;
        values = new List<double>[outputs];
        running = new Running[outputs];
        for (var i = 0; i < outputs; i++) values[i] = new List<double>(LeastBlocks * Block);
    }

    /// <summary>Trials made.</summary>
    public int Trials { get; private set; }

    /// <summary>Trials for which the model had no answer.</summary>
    public int WithoutAnswer { get; private set; }

    /// <summary>One result per output; empty where no trial had an answer.</summary>
    public ImmutableArray<SampledOutput> Outputs { get; private set; } = [];

    /// <summary>Simulates.</summary>
    /// <param name="model">The model.</param>
    /// <param name="inputs">How its inputs are spread.</param>
    /// <param name="outputs">How many outputs it has.</param>
    /// <param name="digits">
    /// Significant digits of the standard uncertainty to which the results are meant. They are stable when twice the
    /// standard deviation of each is no more than a fifth of the numerical tolerance of that (clauses 7.9.2 and 8.2).
    /// </param>
    /// <param name="mostTrials">No more trials than that, but at least two blocks.</param>
    /// <param name="seed">Seed of the draws.</param>
    public static MonteCarlo Run(
        TrialModel model, ImmutableArray<InputShape> inputs, int outputs, int digits, int mostTrials, ulong seed)
    {
        var simulation = new MonteCarlo(model, inputs, outputs, seed);
        var most = Math.Max(LeastBlocks, mostTrials / Block);
        for (var block = 1; block <= most; block++)
        {
            simulation.MakeBlock();
            if (block >= LeastBlocks && simulation.Unstable(digits) == 0) break;
        }

        simulation.Close(digits);
        return simulation;
    }

    /// <summary>
    /// The numerical tolerance of a value that is known to some significant digits of its standard uncertainty: half a unit
    /// of the last one (JCGM 101 clause 7.9.2).
    /// </summary>
    public static double Tolerance(double standardUncertainty, int digits)
    {
        if (!(standardUncertainty > 0) || !double.IsFinite(standardUncertainty)) return 0;
        var exponent = Math.Floor(Math.Log10(standardUncertainty)) - digits + 1;
        if (Math.Round(standardUncertainty / Math.Pow(10, exponent)) >= Math.Pow(10, digits)) exponent++;
        return 0.5 * Math.Pow(10, exponent);
    }

    private void MakeBlock()
    {
        Span<double> deviations = new double[inputs.Length];
        Span<double> outputs = new double[values.Length];
        var from = values.Length > 0 ? values[0].Count : 0;
        for (var i = 0; i < Block; i++)
        {
            Draws.Fill(seed, (ulong)Trials++, inputs, deviations);
            if (!model(deviations, outputs) || !IsFinite(outputs))
            {
                WithoutAnswer++;
                continue;
            }

            for (var o = 0; o < outputs.Length; o++) values[o].Add(outputs[o]);
        }

        for (var o = 0; o < values.Length && values[o].Count > from; o++)
        {
            var sorted = new double[values[o].Count - from];
            values[o].CopyTo(from, sorted, 0, sorted.Length);
            running[o].Add(SampledOutput.Of(sorted));
        }
    }

    private int Unstable(int digits)
    {
        var count = 0;
        for (var o = 0; o < values.Length; o++)
            if (!running[o].IsStable(StableTo(running[o].StandardUncertainty, digits))) count++;
        return count;
    }

    private void Close(int digits)
    {
        if (values.Length == 0 || values[0].Count == 0) return;
        var results = new SampledOutput[values.Length];
        for (var o = 0; o < values.Length; o++)
        {
            var sampled = SampledOutput.Of([.. values[o]]);
            var tolerance = StableTo(sampled.StandardUncertainty, digits);
            results[o] = sampled with { IsStable = running[o].IsStable(tolerance) };
        }

        Outputs = [.. results];
    }

    private static double StableTo(double standardUncertainty, int digits) =>
        Tolerance(standardUncertainty, digits) / 5;

    private static bool IsFinite(ReadOnlySpan<double> outputs)
    {
        foreach (var output in outputs)
            if (!double.IsFinite(output)) return false;
        return true;
    }

    // The results of the blocks so far: mean and standard deviation of the mean of each.
    private struct Running
    {
        private Scatter mean, spread, low, high;

        public readonly double StandardUncertainty => spread.Mean;

        public void Add(SampledOutput block)
        {
            mean.Add(block.Mean);
            spread.Add(block.StandardUncertainty);
            low.Add(block.Low95);
            high.Add(block.High95);
        }

        public readonly bool IsStable(double tolerance) =>
            mean.IsWithin(tolerance) && spread.IsWithin(tolerance) && low.IsWithin(tolerance)
            && high.IsWithin(tolerance);
    }

    private struct Scatter
    {
        private int count;
        private double squares;

        public double Mean { get; private set; }

        public void Add(double value)
        {
            var off = value - Mean;
            Mean += off / ++count;
            squares += off * (value - Mean);
        }

        // A spread of nothing but rounding is stable.
        public readonly bool IsWithin(double tolerance) => count >= 2
            && 2 * Math.Sqrt(squares / (count * (count - 1.0))) <= tolerance + (1e-12 * Math.Abs(Mean));
    }
}

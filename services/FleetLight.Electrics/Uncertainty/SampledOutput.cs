namespace FleetLight.Electrics;

/// <summary>What a simulation says of one output.</summary>
/// <param name="Mean">Mean of the trials.</param>
/// <param name="StandardUncertainty">Their standard deviation.</param>
/// <param name="Low95">Lower end of the probabilistically symmetric 95 % interval.</param>
/// <param name="High95">Its upper end.</param>
/// <param name="ShortestLow95">Lower end of the shortest 95 % interval.</param>
/// <param name="ShortestHigh95">Its upper end.</param>
internal readonly record struct SampledOutput(
    double Mean, double StandardUncertainty, double Low95, double High95, double ShortestLow95, double ShortestHigh95)
{
    /// <summary>Whether more trials would change nothing that matters.</summary>
    public bool IsStable { get; init; }

    /// <summary>The results of trials (JCGM 101 clauses 7.6 and 7.7), which are sorted in place.</summary>
    public static SampledOutput Of(double[] trials)
    {
        double mean = 0, squares = 0;
        for (var i = 0; i < trials.Length; i++)
        {
            var off = trials[i] - mean;
            mean += off / (i + 1);
            squares += off * (trials[i] - mean);
        }

        Array.Sort(trials);
        var inside = Math.Min((int)((0.95 * trials.Length) + 0.5), trials.Length - 1);
        var low = (trials.Length - 1 - inside) / 2;
        var shortest = 0;
        for (var i = 1; i + inside < trials.Length; i++)
            if (trials[i + inside] - trials[i] < trials[shortest + inside] - trials[shortest]) shortest = i;
        return new SampledOutput(
            mean,
            Math.Sqrt(squares / Math.Max(1, trials.Length - 1)),
            trials[low],
            trials[low + inside],
            trials[shortest],
            trials[shortest + inside]);
    }
}

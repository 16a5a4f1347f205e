namespace FleetLight.Electrics;

/// <summary>One reading that could be taken, with what every explanation foretells of it.</summary>
internal sealed class Question
{
    /// <summary>Distance in standard deviations from which on a reading tells two explanations apart.</summary>
    private const double Apart = 1.5;

    // How many readings an explanation is asked for before there is a pause.
    private const int AskedAtOnce = 16;

    private Question(OpenReading asked, Foresight[][] foresights)
    {
        Asked = asked;
        Foresights = foresights;
    }

    /// <summary>Where, what, and what it takes.</summary>
    public OpenReading Asked { get; }

    /// <summary>What.</summary>
    public MeasuredQuantity Quantity => Asked.Asked[0].Quantity;

    /// <summary>By explanation and place.</summary>
    public Foresight[][] Foresights { get; }

    /// <summary>Asks every explanation everything, in small steps.</summary>
    /// <returns>Null for every step but the last.</returns>
    public static IEnumerable<Question[]?> Ask(WeighedCircuit circuit, WeighedHypothesis[] hypotheses, OpenReading[] asked)
    {
        var foresights = Array.ConvertAll(asked, _ => new Foresight[hypotheses.Length][]);
        // One explanation after the other: what it makes of the readings so far is worked out once.
        for (var h = 0; h < hypotheses.Length; h++)
        {
            for (var q = 0; q < asked.Length; q++)
            {
                foresights[q][h] =
                    [.. asked[q].Asked.Select(a => circuit.Foresee(hypotheses[h], a.Place, a.Quantity))];
                if ((q + 1) % AskedAtOnce == 0) yield return null;
            }

            yield return null;
        }

        yield return [.. asked.Select((one, q) => new Question(one, foresights[q]))];
    }

    /// <summary>Whether any explanation that is a circuit foretells it.</summary>
    public bool IsForetold(WeighedHypothesis[] hypotheses)
    {
        for (var h = 0; h < hypotheses.Length; h++)
            if (hypotheses[h].State is not null && Array.Exists(Foresights[h], f => f.Known)) return true;
        return false;
    }

    /// <summary>Whether it could tell two explanations apart.</summary>
    public bool Separates(int one, int other)
    {
        for (var p = 0; p < Asked.Asked.Length; p++)
        {
            var (a, b) = (Foresights[one][p], Foresights[other][p]);
            if (a.Known != b.Known) return true;
            if (!a.Known) continue;
            var width = Quantity == MeasuredQuantity.FittingLit
                ? 0.5
                : Apart * Math.Sqrt(Math.Max(a.Variance, b.Variance));
            if (Math.Abs(a.Mean - b.Mean) > width) return true;
        }

        return false;
    }

    /// <summary>What the answer is expected to tell about the class, bits.</summary>
    public double Bits(ReadOnlySpan<double> weights, ReadOnlySpan<int> classes, int classCount) =>
        Quantity == MeasuredQuantity.FittingLit
            ? LitPatterns.Bits(weights, classes, classCount, Foresights)
            : InformationGain.Bits(weights, classes, classCount, Forecasts());

    private Forecast[] Forecasts()
    {
        var (low, high) = Span();
        var forecasts = new Forecast[Foresights.Length];
        for (var h = 0; h < forecasts.Length; h++)
        {
            var foresight = Foresights[h][0];
            forecasts[h] = foresight.Known
                ? Forecast.Normal(foresight.Mean, Math.Sqrt(foresight.Variance))
                : Forecast.Even(low, high);
        }

        return forecasts;
    }

    // What foretells nothing is spread over all that the others foretell, nought included.
    private (double Low, double High) Span()
    {
        double low = 0, high = 0;
        foreach (var foresight in Foresights)
        {
            if (!foresight[0].Known) continue;
            var reach = 4 * Math.Sqrt(foresight[0].Variance);
            low = Math.Min(low, foresight[0].Mean - reach);
            high = Math.Max(high, foresight[0].Mean + reach);
        }

        return (low, Math.Max(high, low + 1));
    }
}

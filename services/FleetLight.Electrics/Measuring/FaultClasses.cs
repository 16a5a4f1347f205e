namespace FleetLight.Electrics;

/// <summary>
/// Explanations by what they ask for: those that need the same done at the same place are one class. A fitting that is
/// shorted, missing, reversed or burnt out is opened together with its joint and looked into in any case; so is one
/// at whose joint the cores touch or are wet.
/// </summary>
internal sealed class FaultClasses
{
    private FaultClasses(int[] ofHypothesis, double[] probabilities, int[] leads)
    {
        OfHypothesis = ofHypothesis;
        Probabilities = probabilities;
        Leads = leads;
    }

    /// <summary>The class of each explanation.</summary>
    public int[] OfHypothesis { get; }

    /// <summary>The probability of each class.</summary>
    public double[] Probabilities { get; }

    /// <summary>The likeliest explanation of each class.</summary>
    public int[] Leads { get; }

    /// <summary>How many classes there are.</summary>
    public int Count => Probabilities.Length;

    /// <summary>The classes, likeliest first.</summary>
    public IEnumerable<int> ByProbability => Enumerable.Range(0, Count).OrderByDescending(c => Probabilities[c]);

    /// <summary>The likeliest class.</summary>
    public int Likeliest => Array.IndexOf(Probabilities, Probabilities.Max());

    /// <summary>Sorts explanations, likeliest first, into classes.</summary>
    public static FaultClasses Of(CircuitModel model, WeighedHypothesis[] hypotheses, double[] weights)
    {
        var known = new Dictionary<string, int>(StringComparer.Ordinal);
        var ofHypothesis = new int[hypotheses.Length];
        var leads = new List<int>();
        for (var h = 0; h < hypotheses.Length; h++)
        {
            var key = Key(model, hypotheses[h]);
            if (known.TryAdd(key, leads.Count)) leads.Add(h);
            ofHypothesis[h] = known[key];
        }

        var probabilities = new double[leads.Count];
        for (var h = 0; h < hypotheses.Length; h++) probabilities[ofHypothesis[h]] += weights[h];
        return new FaultClasses(ofHypothesis, probabilities, [.. leads]);
    }

    /// <summary>Whether any of the readings to come could tell two classes apart.</summary>
    public bool AreToldApart(int one, int other, Question[] questions) =>
        one != other && Array.Exists(questions, q => q.Separates(Leads[one], Leads[other]));

    private static string Key(CircuitModel model, WeighedHypothesis h)
    {
        var fittings = h.Case.Fittings.OrEmpty().Select(i => model.Fittings[i].Id).ToList();
        var nodes = h.Case.Nodes.OrEmpty();
        var isBridge = h.Kind is FaultKind.ShortBetweenCores or FaultKind.WaterInJoint;
        if (isBridge && nodes is [var node] && model.Fittings.Any(fitting => fitting.Id == node))
            return $"{FaultKind.FittingMissing}|{node}";
        return $"{Deed(h.Kind)}|{string.Join(',', fittings.Concat(nodes).Concat(Runs(h)))}";
    }

    private static IEnumerable<string> Runs(WeighedHypothesis h) => h.Case.Runs.OrEmpty().Select(run => $"#{run}");

    /// <summary>What a kind of fault asks for, named by one of the kinds that ask for the same.</summary>
    public static FaultKind Deed(FaultKind kind) => kind switch
    {
        FaultKind.FittingShorted or FaultKind.FittingMissing or FaultKind.FittingReversed or FaultKind.FittingOpen =>
            FaultKind.FittingMissing,
        FaultKind.FittingOfOtherWattage or FaultKind.FittingOfUnlistedWattage or FaultKind.FittingForOtherDrive =>
            FaultKind.FittingOfOtherWattage,
        FaultKind.CableLonger or FaultKind.CableShorter or FaultKind.WrongConductorArea =>
            FaultKind.WrongConductorArea,
        FaultKind.MeterOnWrongRange or FaultKind.MeterLeadsReversed => FaultKind.MeterOnWrongRange,
        _ => kind,
    };
}

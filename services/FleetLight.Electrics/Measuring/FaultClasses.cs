using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>
/// Explanations by what they ask for: those that need the same done at the same place are one class. A fitting that is
/// shorted, missing, reversed or burnt out is opened and looked into in any case.
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

    /// <summary>The likeliest class.</summary>
    public int Likeliest => Array.IndexOf(Probabilities, Probabilities.Max());

    /// <summary>Sorts explanations, likeliest first, into classes.</summary>
    public static FaultClasses Of(WeighedHypothesis[] hypotheses, double[] weights)
    {
        var known = new Dictionary<string, int>(StringComparer.Ordinal);
        var ofHypothesis = new int[hypotheses.Length];
        var leads = new List<int>();
        for (var h = 0; h < hypotheses.Length; h++)
        {
            if (known.TryAdd(Key(hypotheses[h]), leads.Count)) leads.Add(h);
            ofHypothesis[h] = known[Key(hypotheses[h])];
        }

        var probabilities = new double[leads.Count];
        for (var h = 0; h < hypotheses.Length; h++) probabilities[ofHypothesis[h]] += weights[h];
        return new FaultClasses(ofHypothesis, probabilities, [.. leads]);
    }

    /// <summary>The classes, that one first, that none of the readings to come could tell from it.</summary>
    public ImmutableArray<int> NotToldApartFrom(int one, Question[] questions) =>
    [
        one,
        .. Enumerable.Range(0, Count)
            .Where(c => c != one && !Array.Exists(questions, q => q.Separates(Leads[one], Leads[c])))
            .OrderByDescending(c => Probabilities[c]),
    ];

    private static string Key(WeighedHypothesis h) =>
        $"{Deed(h.Kind)}|{Names(h.Case.Fittings)}|{Names(h.Case.Runs)}|{Names(h.Case.Nodes)}";

    private static string Names<T>(ImmutableArray<T> places) => string.Join(',', places.OrEmpty());

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

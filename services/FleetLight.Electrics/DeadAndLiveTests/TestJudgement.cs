namespace FleetLight.Electrics;

/// <summary>
/// What a test result says against a published value. It records and compares only: it is advice, never a certificate.
/// </summary>
/// <param name="Kind">The judgement.</param>
/// <param name="Text">The same in plain words.</param>
/// <param name="Source">The published source of the value compared with.</param>
public sealed record TestJudgement(VerdictKind Kind, string Text, string Source)
{
    /// <summary>What must be kept in mind with every such test.</summary>
    public const string CautionText =
        "Such tests are for competent, licensed persons: isolate and prove dead first, follow the local code. "
        + "This comparison is advice and certifies nothing.";

    /// <summary>The value compared with, in the unit of the test; null where there is none.</summary>
    public double? Limit { get; init; }

    /// <summary>The caution that belongs to it.</summary>
    public string Caution { get; init; } = CautionText;

    internal const string NoResistance =
        "The result is not a resistance, or the meter's accuracy is out of range.";

    internal static TestJudgement Unusable(string text, string source) => new(VerdictKind.CannotBeJudged, text, source);
}

namespace FleetLight.Electrics;

/// <summary>By which published rule a duct counts as full. Each is guidance or a rule of its own country.</summary>
public enum DuctFillRule
{
    /// <summary>45 % of the bore's cross-section, whatever the number of cables (IET On-Site Guide).</summary>
    SpaceFactor,

    /// <summary>53 % for one cable, 31 % for two, 40 % for more (NFPA 70 chapter 9 table 1).</summary>
    ByNumberOfCables,
}

/// <summary>How full a duct is.</summary>
/// <param name="FillPercent">Cross-section of the cables as percent of the bore's.</param>
/// <param name="PermittedPercent">Greatest fill that the rule takes as easy to pull, %.</param>
/// <param name="Fits">Whether the fill is at or below that and every cable is thinner than the bore.</param>
/// <param name="MayJam">
/// Whether three cables of one size may wedge side by side: bore divided by cable diameter between 2.8 and 3.2
/// (informational note to NFPA 70 chapter 9 table 1).
/// </param>
/// <param name="ThickestMoreMillimetres">Outside diameter of the thickest further cable that would fit, mm; 0 for
/// none.</param>
public sealed record DuctFillResult(
    double FillPercent, double PermittedPercent, bool Fits, bool MayJam, double ThickestMoreMillimetres)
{
    /// <summary>Where the greatest fill is published, or that it was stated.</summary>
    public string Source { get; init; } = DuctFill.Source;

    /// <summary>
    /// Bore divided by the diameter of the thickest, for three cables of one size (within 5 %); otherwise null.
    /// </summary>
    public double? JamRatio { get; init; }
}

/// <summary>A cable by name.</summary>
/// <param name="Name">What it is called, for the wording of the answer.</param>
/// <param name="OutsideMillimetres">Outside diameter, mm; 0.01 to 2,000.</param>
public readonly record struct DuctCable(string? Name, double OutsideMillimetres);

/// <summary>Whether one more cable goes into a duct.</summary>
/// <param name="GoesIn">Whether it does by the rule.</param>
/// <param name="Text">The same in plain words.</param>
/// <param name="Before">The duct without it.</param>
/// <param name="After">The duct with it.</param>
public sealed record DuctRoom(bool GoesIn, string Text, DuctFillResult Before, DuctFillResult After);

/// <summary>Duct fill by cross-section.</summary>
public static class DuctFill
{
    /// <summary>
    /// Greatest fill by cross-section, %: the space factor of the IET On-Site Guide. Guidance, not a limit.
    /// </summary>
    public const double GuidancePercent = 45;

    /// <summary>Where the guidance is published.</summary>
    public const string Source = "IET On-Site Guide, space factor 45 %";

    /// <summary>Where the rule by the number of cables is published.</summary>
    public const string ByNumberSource = "NFPA 70 chapter 9 table 1";

    /// <summary>Least ratio of bore to diameter at which three cables may jam (same, informational note).</summary>
    public const double LeastJamRatio = 2.8;

    /// <summary>Greatest such ratio (same).</summary>
    public const double MostJamRatio = 3.2;

    // Below this a diameter or an area is a slip of the pen, and quotients by it would leave the range of numbers.
    internal const double LeastMillimetres = 0.01;

    /// <summary>The most cables that are taken into account.</summary>
    public const int MostCables = 1000;

    /// <summary>Greatest fill by a rule, %.</summary>
    /// <param name="rule">The rule; an unknown one is taken as the space factor.</param>
    /// <param name="cables">How many cables lie in the duct.</param>
    public static double PermittedPercent(DuctFillRule rule, int cables) => (rule, cables) switch
    {
        (DuctFillRule.ByNumberOfCables, <= 1) => 53,
        (DuctFillRule.ByNumberOfCables, 2) => 31,
        (DuctFillRule.ByNumberOfCables, _) => 40,
        _ => GuidancePercent,
    };

    /// <summary>How full a duct is with the cables given, by a stated greatest fill.</summary>
    /// <param name="boreMillimetres">Inside diameter of the duct, mm; 1 to 2,000.</param>
    /// <param name="cableMillimetres">Outside diameter of each cable, mm; each 0.01 to 2,000.</param>
    /// <param name="permittedPercent">Greatest fill, %; above 0 to 100.</param>
    public static Outcome<DuctFillResult> Of(
        double boreMillimetres, IReadOnlyList<double>? cableMillimetres, double permittedPercent = GuidancePercent) =>
        permittedPercent is > 0 and <= 100
            ? Of(
                boreMillimetres, cableMillimetres, permittedPercent, permittedPercent,
                permittedPercent == GuidancePercent ? Source : "as stated")
            : Refused(nameof(permittedPercent), "above 0 to 100 %");

    /// <summary>How full a duct is with the cables given, by a published rule.</summary>
    /// <param name="boreMillimetres">Inside diameter of the duct, mm; 1 to 2,000.</param>
    /// <param name="cableMillimetres">Outside diameter of each cable, mm; each 0.01 to 2,000.</param>
    /// <param name="rule">The rule.</param>
    public static Outcome<DuctFillResult> ByRule(
        double boreMillimetres, IReadOnlyList<double>? cableMillimetres, DuctFillRule rule)
    {
        var count = cableMillimetres?.Count ?? 0;
        return Of(
            boreMillimetres, cableMillimetres, PermittedPercent(rule, count), PermittedPercent(rule, count + 1),
            rule == DuctFillRule.ByNumberOfCables ? ByNumberSource : Source);
    }

    /// <summary>Whether one more cable goes in.</summary>
    /// <param name="boreMillimetres">Inside diameter of the duct, mm; 1 to 2,000.</param>
    /// <param name="cableMillimetres">Outside diameter of each cable in it, mm; each 0.01 to 2,000.</param>
    /// <param name="more">The cable to pull in.</param>
    /// <param name="rule">The rule.</param>
    public static Outcome<DuctRoom> OneMore(
        double boreMillimetres, IReadOnlyList<double>? cableMillimetres, DuctCable more,
        DuctFillRule rule = DuctFillRule.SpaceFactor)
    {
        var before = ByRule(boreMillimetres, cableMillimetres, rule);
        if (before.Value is null || cableMillimetres is null) return new Outcome<DuctRoom>(null, before.Refusal);
        if (!(more.OutsideMillimetres is >= LeastMillimetres and <= 2000))
            return Outcome<DuctRoom>.Refused("more.outsideMillimetres", "0.01 to 2000 mm");
        if (cableMillimetres.Count == MostCables)
            return Outcome<DuctRoom>.Refused(nameof(cableMillimetres), $"0 to {MostCables - 1} cables");
        var after = ByRule(boreMillimetres, [.. cableMillimetres, more.OutsideMillimetres], rule).Value!;
        var name = string.IsNullOrWhiteSpace(more.Name) ? "The cable" : $"Cable {more.Name}";
        var text = after.Fits
            ? $"{name} goes in: {Plain.Figure(after.FillPercent)} % of {Plain.Figure(after.PermittedPercent)} %."
            : $"{name} does not go in: the duct would be filled to {Plain.Figure(after.FillPercent)} %, and "
                + $"{Plain.Figure(after.PermittedPercent)} % is the most.";
        if (after.MayJam) text += " Three cables of this size may jam in a bend.";
        return Outcome<DuctRoom>.Of(new DuctRoom(after.Fits, text, before.Value, after));
    }

    private static Outcome<DuctFillResult> Of(
        double boreMillimetres, IReadOnlyList<double>? cableMillimetres, double permittedPercent, double withOneMore,
        string source)
    {
        if (!(boreMillimetres is >= 1 and <= 2000)) return Refused(nameof(boreMillimetres), "1 to 2000 mm");
        if (cableMillimetres is null || cableMillimetres.Count > MostCables)
            return Refused(nameof(cableMillimetres), $"0 to {MostCables} cables");
        double squares = 0, thickest = 0, thinnest = double.PositiveInfinity;
        for (var i = 0; i < cableMillimetres.Count; i++)
        {
            var diameter = cableMillimetres[i];
            if (!(diameter is >= LeastMillimetres and <= 2000))
                return Refused($"{nameof(cableMillimetres)}[{i}]", "0.01 to 2000 mm");
            squares += diameter * diameter;
            thickest = Math.Max(thickest, diameter);
            thinnest = Math.Min(thinnest, diameter);
        }

        var bore = boreMillimetres * boreMillimetres;
        var fill = 100 * squares / bore;
        var left = (bore * withOneMore / 100) - squares;
        double? ratio = cableMillimetres.Count == 3 && thickest <= 1.05 * thinnest ? boreMillimetres / thickest : null;
        return Outcome<DuctFillResult>.Of(new DuctFillResult(
            fill,
            permittedPercent,
            fill <= permittedPercent && thickest < boreMillimetres,
            ratio is >= LeastJamRatio and <= MostJamRatio,
            left > 0 ? Math.Sqrt(left) : 0)
        { Source = source, JamRatio = ratio });
    }

    private static Outcome<DuctFillResult> Refused(string field, string range) =>
        Outcome<DuctFillResult>.Refused(field, range);
}

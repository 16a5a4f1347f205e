namespace FleetLight.Electrics;

/// <summary>How full a duct is.</summary>
/// <param name="FillPercent">Cross-section of the cables as percent of the bore's.</param>
/// <param name="PermittedPercent">Greatest fill that is taken as easy to pull, %.</param>
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
    /// <summary>Where the default greatest fill is published.</summary>
    public string Source { get; init; } = DuctFill.Source;
}

/// <summary>Duct fill by cross-section.</summary>
public static class DuctFill
{
    /// <summary>
    /// Greatest fill by cross-section, %: the space factor of the IET On-Site Guide. Guidance, not a limit.
    /// </summary>
    public const double GuidancePercent = 45;

    /// <summary>Where the guidance is published.</summary>
    public const string Source = "IET On-Site Guide, space factor 45 %";

    /// <summary>The most cables that are taken into account.</summary>
    public const int MostCables = 1000;

    /// <summary>How full a duct is with the cables given.</summary>
    /// <param name="boreMillimetres">Inside diameter of the duct, mm; 1 to 2,000.</param>
    /// <param name="cableMillimetres">Outside diameter of each cable, mm; each above 0 to 2,000.</param>
    /// <param name="permittedPercent">Greatest fill, %; above 0 to 100.</param>
    public static Outcome<DuctFillResult> Of(
        double boreMillimetres, IReadOnlyList<double>? cableMillimetres, double permittedPercent = GuidancePercent)
    {
        if (!(boreMillimetres is >= 1 and <= 2000)) return Refused(nameof(boreMillimetres), "1 to 2000 mm");
        if (!(permittedPercent is > 0 and <= 100)) return Refused(nameof(permittedPercent), "above 0 to 100 %");
        if (cableMillimetres is null || cableMillimetres.Count > MostCables)
            return Refused(nameof(cableMillimetres), $"0 to {MostCables} cables");
        double squares = 0, thickest = 0, thinnest = double.PositiveInfinity;
        for (var i = 0; i < cableMillimetres.Count; i++)
        {
            var diameter = cableMillimetres[i];
            if (!(diameter is > 0 and <= 2000))
                return Refused($"{nameof(cableMillimetres)}[{i}]", "above 0 to 2000 mm");
            squares += diameter * diameter;
            thickest = Math.Max(thickest, diameter);
            thinnest = Math.Min(thinnest, diameter);
        }

        var bore = boreMillimetres * boreMillimetres;
        var fill = 100 * squares / bore;
        var left = (bore * permittedPercent / 100) - squares;
        var alike = cableMillimetres.Count == 3 && thickest <= 1.05 * thinnest;
        return Outcome<DuctFillResult>.Of(new DuctFillResult(
            fill,
            permittedPercent,
            fill <= permittedPercent && thickest < boreMillimetres,
            alike && boreMillimetres / thickest is >= 2.8 and <= 3.2,
            left > 0 ? Math.Sqrt(left) : 0));
    }

    private static Outcome<DuctFillResult> Refused(string field, string range) =>
        Outcome<DuctFillResult>.Refused(field, range);
}

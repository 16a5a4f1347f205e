using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Electrics;
using FleetLight.Record.Files;
using FleetLight.Service.Calculations.Mapping;

namespace FleetLight.Service.Calculations;

/// <summary>How full a duct is, and which cable goes in besides.</summary>
internal static class DuctFillCalculation
{
    public static readonly Calculation<DuctFillRequest, DuctFillAnswer> Calculation = new()
    {
        Name = "duct-fill",
        Summary = "How full a duct is, and which cable goes in besides",
        Description =
            "Fill by cross-section, by a published rule or a stated greatest fill. Each cable under 'more' is asked about by itself: does it go "
            + "in besides the cables that are in? Guidance, not a limit. By hand, example three-cables: 3 × 9² / 40² = 15.2 % of a 40 mm bore; "
            + "with one of 20 mm besides (3 × 9² + 20²) / 40² = 40.2 %, which keeps 45 %; the thickest that does has "
            + "√(0.45 × 40² − 3 × 9²) = 21.8 mm.",
        Limits = $"{CalculationLimits.MostCableKinds} kinds of cable, {DuctFill.MostCables:N0} cables, {CalculationLimits.MostCableKinds} asked about.",
        Units = "mm, %.",
        Run = Run,
    };

    private static Calculated<DuctFillAnswer> Run(DuctFillRequest request)
    {
        double[] cables = [.. request.Cables.SelectMany(cable => Enumerable.Repeat(cable.OutsideDiameterMillimetres, cable.Count ?? 1))];
        var filled = Fill(request, cables);
        if (filled.Value is not { } fill) return Refusals.ProblemOf(filled.Refusal!, "cables");
        var more = new OneMoreAnswer[request.More?.Length ?? 0];
        for (var i = 0; i < more.Length; i++)
        {
            var asked = request.More![i];
            var with = Fill(request, [.. cables, asked.OutsideDiameterMillimetres]);
            if (with.Value is not { } then) return Refusals.ProblemOf(with.Refusal!, "cables");
            more[i] = More(asked, then, Text(request, cables, asked));
        }

        return Answer(fill, more);
    }

    private static DuctFillAnswer Answer(DuctFillResult fill, OneMoreAnswer[] more) => new()
    {
        ModelVersion = Expected.ModelVersion,
        FillPercent = fill.FillPercent,
        PermittedPercent = fill.PermittedPercent,
        Source = fill.Source,
        Fits = fill.Fits,
        MayJam = fill.MayJam,
        JamRatio = fill.JamRatio,
        ThickestMoreMillimetres = fill.ThickestMoreMillimetres,
        More = more,
    };

    private static OneMoreAnswer More(OneCableInput asked, DuctFillResult with, string? text) => new()
    {
        Name = asked.Name,
        OutsideDiameterMillimetres = asked.OutsideDiameterMillimetres,
        GoesIn = with.Fits,
        Text = text,
        FillPercent = with.FillPercent,
        PermittedPercent = with.PermittedPercent,
        MayJam = with.MayJam,
    };

    private static Outcome<DuctFillResult> Fill(DuctFillRequest request, IReadOnlyList<double> cables) => request.PermittedPercent is { } stated
        ? DuctFill.Of(request.BoreMillimetres, cables, stated)
        : DuctFill.ByRule(request.BoreMillimetres, cables, Rule(request));

    private static string? Text(DuctFillRequest request, IReadOnlyList<double> cables, OneCableInput asked) => request.PermittedPercent is null
        ? DuctFill.OneMore(
            request.BoreMillimetres, cables, new DuctCable(asked.Name, asked.OutsideDiameterMillimetres), Rule(request)).Value?.Text
        : null;

    private static DuctFillRule Rule(DuctFillRequest request) => WireWord.Of<FillRule, DuctFillRule>(request.Rule ?? FillRule.SpaceFactor);
}

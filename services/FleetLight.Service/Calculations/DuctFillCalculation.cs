using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Electrics;
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
            "Fill by cross-section. Each cable under 'more' is asked about by itself: would it go in besides the cables that are in? Guidance, "
            + "not a limit. By hand, example three-cables: 3 × 9² / 40² = 15.2 % of a 40 mm bore; with one of 20 mm besides "
            + "(3 × 9² + 20²) / 40² = 40.2 %, which keeps 45 %; the thickest that does has √(0.45 × 40² − 3 × 9²) = 21.8 mm.",
        Limits = $"{CalculationLimits.MostCableKinds} kinds of cable, {DuctFill.MostCables:N0} cables, {CalculationLimits.MostCableKinds} asked about.",
        Units = "mm, %.",
        Run = Run,
    };

    private static Calculated<DuctFillAnswer> Run(DuctFillRequest request)
    {
        List<double> cables = [.. request.Cables.SelectMany(Diameters)];
        var filled = Fill(request, cables);
        if (filled.Refusal is { } refusal) return Refusals.ProblemOf(refusal, "cables");
        var more = new MoreCableAnswer[request.More?.Length ?? 0];
        for (var i = 0; i < more.Length; i++)
        {
            var asked = request.More![i];
            var with = Fill(request, [.. cables, .. Diameters(asked)]);
            if (with.Value is not { } fill) return Refusals.ProblemOf(with.Refusal!, $"more[{i}].count");
            more[i] = new MoreCableAnswer
            {
                Name = asked.Name,
                OutsideDiameterMillimetres = asked.OutsideDiameterMillimetres,
                Count = asked.Count ?? 1,
                Fits = fill.Fits,
                FillPercent = fill.FillPercent,
                MayJam = fill.MayJam,
            };
        }

        return Answer(filled.Value!, more);
    }

    private static DuctFillAnswer Answer(DuctFillResult fill, MoreCableAnswer[] more) => new()
    {
        ModelVersion = Expected.ModelVersion,
        FillPercent = fill.FillPercent,
        PermittedPercent = fill.PermittedPercent,
        Fits = fill.Fits,
        MayJam = fill.MayJam,
        ThickestMoreMillimetres = fill.ThickestMoreMillimetres,
        More = more,
        Source = fill.Source,
    };

    private static Outcome<DuctFillResult> Fill(DuctFillRequest request, IReadOnlyList<double> cables) =>
        DuctFill.Of(request.BoreMillimetres, cables, request.PermittedPercent ?? DuctFill.GuidancePercent);

    private static IEnumerable<double> Diameters(CableInput cable) =>
        Enumerable.Repeat(cable.OutsideDiameterMillimetres, cable.Count ?? 1);
}

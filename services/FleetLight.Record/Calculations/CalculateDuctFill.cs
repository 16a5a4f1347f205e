using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Electrics;
using FleetLight.Record.Calculations.Mapping;
using FleetLight.Record.Files;

namespace FleetLight.Record.Calculations;

/// <summary>How full a duct is, and which cable goes in besides.</summary>
public static class CalculateDuctFill
{
    /// <summary>The answer, or what is wrong with the request.</summary>
    /// <param name="request">What is asked, as <see cref="Checks.RequestCheck"/> finds it sound.</param>
    public static Calculated<DuctFillAnswer> Answer(DuctFillRequest request)
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

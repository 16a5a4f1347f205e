using System.Collections.Immutable;
using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Electrics;
using FleetLight.Record.Files;

namespace FleetLight.Record.Calculations.Mapping;

/// <summary>Figures of the electrics as answers show them.</summary>
internal static class FigureMapping
{
    /// <summary>A figure with its budget.</summary>
    public static EstimatedValue Whole(Estimate estimate) => Plain(estimate) with { Budget = Lines(estimate.Budget) };

    /// <summary>A figure without its budget.</summary>
    public static EstimatedValue Plain(Estimate estimate) => new()
    {
        Value = estimate.Best,
        StandardUncertainty = estimate.StandardUncertainty,
        Low = estimate.Low95,
        High = estimate.High95,
    };

    /// <summary>What a sound circuit should read.</summary>
    /// <param name="expected">The figures.</param>
    /// <param name="partBudgets">Whether single fittings and places show their budgets.</param>
    public static ExpectedFigures Figures(ExpectedReadings expected, bool partBudgets)
    {
        Func<Estimate, EstimatedValue> part = partBudgets ? Whole : Plain;
        return new ExpectedFigures
        {
            DriverVoltsDc = Whole(expected.DriverVoltsDc),
            DriverMilliamps = Whole(expected.DriverMilliamps),
            DriverWatts = Whole(expected.DriverWatts),
            CableLoopOhms = expected.CableLoopOhms is { } loop ? Whole(loop) : null,
            CableLoopOhmsAtMost = expected.CableLoopOhmsAtMost,
            Loading = new LoadingAnswer
            {
                PercentOfMostVolts = expected.Loading.PercentOfMostVolts,
                PercentOfMostWatts = expected.Loading.PercentOfMostWatts,
                PercentOfMostAmps = expected.Loading.PercentOfMostAmps,
            },
            WorstDropPercent = expected.WorstDropPercent,
            Fittings =
            [
                .. expected.Fittings.Select(fitting => new FittingFigures
                {
                    FittingId = fitting.FittingId, VoltsDc = part(fitting.VoltsDc), Watts = fitting.Watts,
                }),
            ],
            Places = [.. expected.Nodes.Select(node => new PlaceFigures { Place = node.NodeId, VoltsDc = part(node.VoltsDc) })],
            Remarks = [.. expected.Notes.Select(Remark)],
        };
    }

    /// <summary>How a driver's voltage stands to the limits of extra-low voltage.</summary>
    public static TouchAnswer Touch(TouchAssessment touch) => new()
    {
        Limit = WireWord.Of<TouchClass, TouchLimit>(touch.Class),
        VoltsDc = touch.VoltsDc,
        Basis = WireWord.Of<VoltageBasis, TouchBasis>(touch.Basis),
        Text = touch.Text,
        Source = touch.Source,
    };

    private static Remark Remark(ExpectationNote note) => new()
    {
        Code = WireWord.Of<NoteCode, RemarkCode>(note.Code),
        Text = note.Text,
        Field = Refusals.FieldOf(note.Field),
    };

    private static BudgetLine[] Lines(ImmutableArray<UncertaintyContribution> budget) =>
    [
        .. budget.Select(line => new BudgetLine
        {
            Source = WireWord.Of<UncertaintySource, BudgetSource>(line.Source),
            StandardUncertainty = line.StandardUncertainty,
            SharePercent = line.SharePercent,
        }),
    ];
}

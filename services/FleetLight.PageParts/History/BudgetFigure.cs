using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.PageParts.Wording;

namespace FleetLight.PageParts.History;

/// <summary>A line of an uncertainty budget as it is shown.</summary>
/// <param name="From">Where it comes from.</param>
/// <param name="Uncertainty">Its part of the standard uncertainty, with its unit.</param>
/// <param name="Share">Its share of the variance.</param>
/// <param name="Width">The share as the width of a bar (CSS).</param>
public sealed record BudgetBar(string From, string Uncertainty, string Share, string Width);

/// <summary>A figure with its uncertainty budget.</summary>
/// <param name="Name">What figure it is.</param>
/// <param name="Text">The figure with its interval.</param>
/// <param name="Lines">The contributions, largest first.</param>
public sealed record BudgetFigure(string Name, string Text, IReadOnlyList<BudgetBar> Lines)
{
    /// <summary>The figures of a circuit that have a budget.</summary>
    public static IReadOnlyList<BudgetFigure> Of(ExpectedFigures figures)
    {
        ArgumentNullException.ThrowIfNull(figures);
        List<BudgetFigure?> all =
        [
            Of("Volts at the driver", figures.DriverVoltsDc, "V"),
            Of("Current at the driver", figures.DriverMilliamps, "mA"),
            Of("Power at the driver", figures.DriverWatts, "W"),
            figures.CableLoopOhms is { } ohms ? Of("Resistance of the cable loop", ohms, "Ω") : null,
            .. figures.Fittings.Select(fitting => Of($"Volts at fitting {fitting.FittingId}", fitting.VoltsDc, "V")),
        ];
        return [.. all.OfType<BudgetFigure>()];
    }

    /// <summary>Where uncertainty comes from, in words.</summary>
    public static string Says(BudgetSource source) => source switch
    {
        BudgetSource.DriverOutput => "The driver's output",
        BudgetSource.FittingPower => "The power of each fitting",
        BudgetSource.FittingTemperature => "How warm the fittings are",
        BudgetSource.CableLength => "Recorded lengths",
        BudgetSource.ConductorTemperature => "How warm the conductors are",
        BudgetSource.ConductorResistance => "How far conductors lie below their greatest resistance",
        BudgetSource.Meter => "The meter",
        _ => Record.Files.Words.Of(source).Replace('-', ' '),
    };

    private static BudgetFigure? Of(string name, EstimatedValue value, string unit)
    {
        if (value.Budget is not { Count: > 0 } budget) return null;
        return new BudgetFigure(
            name,
            $"{Figures.Plain(value.Value, 3)} {unit}, standard uncertainty {Figures.Plain(value.StandardUncertainty, 3)} {unit}; "
                + $"95 % interval {Figures.Plain(value.Low, 3)} to {Figures.Plain(value.High, 3)} {unit}",
            [
                .. budget.OrderByDescending(line => line.SharePercent).Select(line => new BudgetBar(
                    Says(line.Source), $"{Figures.Plain(line.StandardUncertainty, 4)} {unit}", Figures.Percent(line.SharePercent / 100),
                    FormattableString.Invariant($"{Math.Clamp(line.SharePercent, 0, 100):F1}%"))),
            ]);
    }
}

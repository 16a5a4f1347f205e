using System.Collections.Immutable;
using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>A fault as found: what a definition needs to put it into words.</summary>
/// <param name="Model">The circuit as recorded.</param>
/// <param name="Case">The likeliest of its cases.</param>
/// <param name="Figure">Its figure, by <see cref="FaultCase.Meaning"/>; NaN where none.</param>
public sealed record FaultFinding(CircuitModel Model, FaultCase Case, double Figure)
{
    // More names than this hide the message.
    private const int MostNames = 8;

    /// <summary>Least figure that the readings leave likely; NaN where it is known.</summary>
    public double FigureLow { get; init; } = double.NaN;

    /// <summary>Greatest figure that the readings leave likely; NaN where it is known.</summary>
    public double FigureHigh { get; init; } = double.NaN;

    /// <summary>The fittings that it may be.</summary>
    public ImmutableArray<string> FittingIds { get; init; } = [];

    /// <summary>The runs that it may be.</summary>
    public ImmutableArray<string> RunIds { get; init; } = [];

    /// <summary>The nodes that it may be at.</summary>
    public ImmutableArray<string> NodeIds { get; init; } = [];

    /// <summary>For a slip of the meter: " for the volts at f1"; empty where it touches all.</summary>
    public string ForReading { get; init; } = "";

    /// <summary>Whether other cases of it are as likely and cannot be told from it.</summary>
    public bool IsOneOfSeveral { get; init; }

    /// <summary>Whether the circuit is a series loop.</summary>
    public bool IsSeries => Model.Drive == DriveKind.ConstantCurrent;

    /// <summary>"Fitting f1", or "One of the fittings f1, f2".</summary>
    public string Fitting => Name("Fitting", "One of the fittings", "One of the fittings", FittingIds);

    /// <summary>"Run r1", "One of the runs r1, r2", or words for the loop as a whole.</summary>
    public string Run => Name("Run", "One of the runs", "The cable", RunIds);

    /// <summary>"at the driver", "at f1", or "at one of f1, f2".</summary>
    public string AtNode => NodeIds.Length == 1 && NodeIds[0] == CircuitModel.DriverNode
        ? "at the driver's terminals"
        : Name("at", "at one of", "somewhere", NodeIds);

    /// <summary>The figure: "12.0", "about 12.0" or "somewhere between 1.00 and 50.0".</summary>
    public string FigureText => double.IsNaN(FigureLow) || double.IsNaN(FigureHigh)
        ? Figures(Figure)
        : FigureHigh > 1.5 * FigureLow
            ? $"somewhere between {Figures(FigureLow)} and {Figures(FigureHigh)}"
            : $"about {Figures(Figure)}";

    /// <summary>The designed wattage of the fitting, W.</summary>
    public string RatedWatts => Case.Fittings.OrEmpty() is [var first, ..] && first >= 0 && first < Model.Fittings.Length
        ? Plain.Figure(Model.Fittings[first].RatedWatts)
        : "another number of";

    // The range of a leak is wide; its unit goes with it.
    private string Figures(double value) => Case.Meaning != FigureMeaning.LeakOhms ? Plain.Figure(value) : value switch
    {
        >= 999_500 => $"{Plain.Figure(value / 1e6)} MΩ",
        >= 999.5 => $"{Plain.Figure(value / 1e3)} kΩ",
        _ => $"{Plain.Figure(value)} Ω",
    };

    private static string Name(string one, string many, string none, ImmutableArray<string> ids) => ids.Length switch
    {
        0 => none,
        1 => $"{one} {ids[0]}",
        <= MostNames => $"{many} {string.Join(", ", ids)}",
        _ => $"{many} {string.Join(", ", ids.Take(MostNames - 1))} and {ids.Length - MostNames + 1} more",
    };
}

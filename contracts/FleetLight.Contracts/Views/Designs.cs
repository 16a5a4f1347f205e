using FleetLight.Contracts.Facts;

namespace FleetLight.Contracts.Views;

/// <summary>What was read from a file of designs. Nothing is stored.</summary>
public sealed record DesignsRead
{
    /// <summary>The circuits without a mistake, in the order of the file: each is the data of <c>fleetlight.circuit.designed.v1</c>.</summary>
    public required IReadOnlyList<CircuitDesigned> Designs { get; init; }

    /// <summary>Every mistake in the file, by row and column; a circuit with one is not among the designs.</summary>
    public required IReadOnlyList<DesignProblem> Problems { get; init; }
}

/// <summary>A mistake in a file of designs.</summary>
public sealed record DesignProblem
{
    /// <summary>The row of a CSV file as a spreadsheet counts them, the header is 1, or the line of JSON that cannot be read; without a unit.</summary>
    public int? Row { get; init; }

    /// <summary>The column of a CSV file, by its header.</summary>
    public string? Column { get; init; }

    /// <summary>The member of a JSON file as a path, for instance <c>[1].runs[2].lengthMetres</c>.</summary>
    public string? Field { get; init; }

    /// <summary>The circuit, where it is known.</summary>
    public string? CircuitId { get; init; }

    /// <summary>What is wrong, in plain words.</summary>
    public required string Detail { get; init; }

    /// <summary>What to do about it.</summary>
    public required string Remedy { get; init; }
}

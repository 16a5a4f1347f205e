namespace FleetLight.Record.Checks;

/// <summary>What is wrong with a member of a fact or of a request.</summary>
/// <param name="Field">The member as a path, for instance <c>data.runs[2].lengthMetres</c>.</param>
/// <param name="Kind">Which kind of problem.</param>
/// <param name="Detail">What is wrong, with the unit and the range.</param>
/// <param name="Remedy">What to do about it.</param>
public sealed record FactProblem(string Field, FactProblemKind Kind, string Detail, string Remedy);

/// <summary>Kinds of problem with a member of a fact or of a request.</summary>
public enum FactProblemKind
{
    /// <summary>Not as the type asks.</summary>
    Invalid,

    /// <summary>A value outside its range.</summary>
    OutOfRange,
}

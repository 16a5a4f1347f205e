namespace FleetLight.Contracts.Calculations.Requests;

/// <summary>What should this circuit read, and how sure is that?</summary>
public sealed record ExpectedRequest
{
    /// <summary>The circuit.</summary>
    public required CircuitInput Circuit { get; init; }

    /// <summary>What to assume in place of the stated defaults.</summary>
    public AssumptionsInput? Assumptions { get; init; }

    /// <summary>Whether the answer has the uncertainty budget of every single fitting and place too; not where absent.</summary>
    public bool? PartBudgets { get; init; }
}

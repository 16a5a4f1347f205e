using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>The faults that a diagnosis looks for unless told otherwise.</summary>
/// <remarks>
/// Each prior is how common the fault is on a circuit on the day it is first measured or found not to work, relative to
/// the others: judgement of the trade, no source. <see cref="DiagnosisOptions.Priors"/> overrides them,
/// <see cref="DiagnosisOptions.MoreFaults"/> adds to the catalogue.
/// </remarks>
public static class FaultCatalogue
{
    /// <summary>The default catalogue.</summary>
    public static ImmutableArray<FaultDefinition> Default { get; } =
    [
        new(FaultKind.AsDesigned, "As designed", 0.9)
        {
            AlsoShows = "Every fitting is lit as it should be.",
            WhatToDo = "Nothing needs doing for these readings.",
            Cases = _ => [new(1)],
            Says = _ => "The circuit is as designed; tolerances explain the readings.",
        },
        .. FittingFaults.All,
        .. CableFaults.All,
        .. DriverFaults.All,
        .. MeterFaults.All,
        NoneOfThese,
    ];

    // Its readings are spread over all that a meter might show; the diagnosis adds it by itself.
    internal static FaultDefinition NoneOfThese => new(FaultKind.NoneOfThese, "None of these", 0.003)
    {
        AlsoShows = "Nothing can be foretold.",
        WhatToDo = "Measure at another place, and check the readings and the design that is recorded.",
        Says = _ => "None of the faults known here explains the readings.",
    };
}

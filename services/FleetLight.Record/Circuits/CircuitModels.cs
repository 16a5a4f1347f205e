using FleetLight.Contracts.Views;
using FleetLight.Record.Calculations;

namespace FleetLight.Record.Circuits;

/// <summary>Shows a recorded circuit as built in the members that calculations take.</summary>
public static class CircuitModels
{
    // The least that a request for the next measurement takes.
    private const double LeastEnoughPercent = 51;

    /// <summary>The circuit of a basis.</summary>
    public static CircuitModelView Of(CircuitBasis basis)
    {
        ArgumentNullException.ThrowIfNull(basis);
        var judging = basis.Judging ?? Judging.Default;
        return new CircuitModelView
        {
            Id = basis.Id,
            SiteId = basis.SiteId,
            Name = basis.Name,
            ModelVersion = basis.ModelVersion,
            SettingsVersion = judging.Version,
            Circuit = basis.Model is { } model ? AsRequested.Circuit(model) : null,
            Missing = Missing(basis),
            Assumptions = AsRequested.Assumed(judging.Assumptions),
            Rule = AsRequested.Rule(judging.Rule),
            LookFor = AsRequested.LookFor(judging.Options),
            EnoughPercent = Math.Max(LeastEnoughPercent, AsRequested.Percent(judging.Measuring.EnoughProbability)),
            Places = basis.Places?.Select(AsRequested.Place).ToList(),
            BoxAliases = basis.BoxAliases,
        };
    }

    private static string[] Missing(CircuitBasis basis) =>
        basis.Reads is null ? [basis.Refusal?.Text ?? ReadingJudge.NoDesign] : [];
}

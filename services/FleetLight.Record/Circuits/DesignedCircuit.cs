using System.Collections.Immutable;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Calculations;
using FleetLight.Record.Corrections;

namespace FleetLight.Record.Circuits;

/// <summary>What calculations take of a design, before anything of it is built.</summary>
public static class DesignedCircuit
{
    /// <summary>
    /// The circuit of a design, in the members that calculations take. A run whose cable is recorded as pulled counts with the cable's
    /// length and conductors, as it does once the design is recorded.
    /// </summary>
    /// <param name="design">The design.</param>
    /// <param name="cables">Cables that are recorded.</param>
    /// <param name="boxes">Boxes that are recorded: two records of one box are one place.</param>
    public static CircuitInput Of(CircuitDesigned design, IEnumerable<CableView>? cables = null, IEnumerable<BoxView>? boxes = null)
    {
        ArgumentNullException.ThrowIfNull(design);
        return AsRequested.Circuit(AsBuilt.Model(
            design, design.Driver, ImmutableDictionary<string, Counted<FittingFixed>>.Empty, new ById<CableView>(cables ?? []), new ById<BoxView>(boxes ?? [])));
    }

    /// <summary>What an organisation's settings assume, in the members that calculations take.</summary>
    public static AssumptionsInput Assumed(JudgingView judging)
    {
        ArgumentNullException.ThrowIfNull(judging);
        return AsRequested.Assumed(new Judging(judging.Version, judging.Settings).Assumptions);
    }
}

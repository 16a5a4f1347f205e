using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;

namespace FleetLight.Record.Materials;

/// <summary>Works out how long the leads of fittings have to be.</summary>
internal static class Leads
{
    public static IEnumerable<FittingLead> Of(
        CircuitDesigned design, DesignPlaces places, CircuitView? circuit, IReadOnlyList<BoxView> boxes, MaterialAssumptions assumed)
    {
        foreach (var fitting in design.Fittings)
        {
            var lead = new FittingLead { CircuitId = design.CircuitId, FittingId = fitting.FittingId, TailMetres = fitting.Tail?.LengthMetres };
            if (places.LeadOf(fitting.FittingId) is { } run)
            {
                yield return Reaching(lead, run.Box, run.Run.LengthMetres, $"run {run.Run.RunId} of the design", assumed) with { Reaches = true };
                continue;
            }

            var at = circuit?.Fittings.FirstOrDefault(one => one.FittingId == fitting.FittingId)?.Position;
            var near = at is null
                ? null
                : boxes.Where(box => box.Position is not null).MinBy(box => (MaterialMath.Distance(at, box.Position!), box.Id));
            yield return near is null
                ? lead with { Missing = Missing(fitting.FittingId, at is not null) }
                : Reaching(
                    lead, near.Id, MaterialMath.Distance(at!, near.Position!),
                    $"the recorded positions of the fitting and of the nearest box, {near.Label ?? near.Id}", assumed);
        }
    }

    private static FittingLead Reaching(FittingLead lead, string box, double metres, string by, MaterialAssumptions assumed)
    {
        var needed = assumed.Lead(metres);
        return lead with
        {
            BoxId = box,
            DistanceMetres = Math.Round(metres, 2),
            DistanceBy = by,
            LeadMetres = needed,
            Reaches = lead.TailMetres is { } tail ? tail >= needed : null,
        };
    }

    private static string Missing(string fitting, bool hasPosition) =>
        $"How far fitting {fitting} is from its joint box: {(hasPosition ? "no box of the circuit has a recorded position" : "its position is not recorded")}, and no run "
        + "of the design leads from a box to it. Record the positions, or draw the run from the box to the fitting.";
}

using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Sites;

namespace FleetLight.Record.Materials;

/// <summary>What designs take of material, beside what was recorded as used.</summary>
public static class MaterialList
{
    /// <summary>That of a site: all its designs, ducts, cables and boxes.</summary>
    public static MaterialsView OfSite(SiteStates states, MaterialAssumptions? assumptions = null)
    {
        ArgumentNullException.ThrowIfNull(states);
        return Of(Kept(states), assumptions ?? MaterialAssumptions.Default);
    }

    /// <summary>That of one circuit: its design, and the cables, ducts and boxes that it leans on. What it shares is counted whole.</summary>
    public static MaterialsView OfCircuit(SiteStates states, string circuitId, MaterialAssumptions? assumptions = null)
    {
        ArgumentNullException.ThrowIfNull(states);
        var kept = Kept(states);
        var circuit = kept.Circuits.FirstOrDefault(one => one.Id == circuitId);
        var design = states.Designs.GetValueOrDefault(circuitId);
        var cables = kept.Cables
            .Where(cable => circuit?.CableIds.Contains(cable.Id) == true || cable.Cores.Any(core => core.CircuitId == circuitId)
                || design?.Runs.Any(run => run.CableId == cable.Id) == true)
            .ToList();
        return Of(
            kept with
            {
                Cables = cables,
                Ducts = [.. kept.Ducts.Where(duct => cables.Any(cable => cable.DuctIds.Contains(duct.Id)))],
                Boxes = [.. kept.Boxes.Where(box => circuit?.BoxIds.Contains(box.Id) == true || box.Joints.Any(joint => joint.CircuitId == circuitId))],
                Circuits = circuit is null ? [] : [circuit],
                Designs = design is null ? [] : new Dictionary<string, CircuitDesigned> { [circuitId] = design },
            },
            assumptions ?? MaterialAssumptions.Default,
            joint => joint.CircuitId == circuitId);
    }

    private static MaterialsView Of(SiteStates states, MaterialAssumptions assumed, Func<JointView, bool>? isOurs = null)
    {
        var cables = new Dictionary<string, CableView>(StringComparer.Ordinal);
        foreach (var cable in states.Cables) cables[cable.Id] = cable;
        CircuitDesigned[] designs = [.. states.Designs.Values.OrderBy(design => design.CircuitId, StringComparer.Ordinal)];
        var needs = new MaterialNeeds(states, assumed);
        foreach (var design in designs) needs.Add(design, cables);
        var missing = new List<string>();
        foreach (var circuit in states.Circuits.Where(circuit => !states.Designs.ContainsKey(circuit.Id)).Select(circuit => circuit.Id).Order(StringComparer.Ordinal))
            missing.Add($"The design of circuit {circuit}: nothing is counted for it.");
        missing.AddRange(needs.Leads.Select(lead => lead.Missing).OfType<string>());
        missing.AddRange(needs.Leads.Where(lead => lead.Reaches == false).Select(lead =>
            $"The tail of fitting {lead.FittingId} does not reach its joint box: {Files.Words.Of(lead.TailMetres, "m")} of {Files.Words.Of(lead.LeadMetres, "m")}."));
        CableCut[] cuts =
        [
            .. needs.Cuts.OrderBy(cut => cut.Cable, StringComparer.Ordinal).ThenByDescending(cut => cut.CutMetres)
                .ThenBy(cut => cut.CircuitId, StringComparer.Ordinal).ThenBy(cut => cut.RunId ?? cut.FittingId, StringComparer.Ordinal),
        ];
        return new MaterialsView
        {
            SiteId = states.SiteId,
            CircuitIds = [.. designs.Select(design => design.CircuitId)],
            Assumptions = assumed.Listed(),
            Lines = MaterialLines.Of(states, needs, assumed, isOurs ?? (_ => true)),
            Cuts = cuts,
            CutPlans = [.. cuts.GroupBy(cut => cut.Cable).Select(group => PlanOf(group.Key, [.. group.Select(cut => cut.CutMetres)], assumed.ReelMetres))],
            Leads = needs.Leads,
            Boxes = needs.Boxes,
            Missing = missing,
        };
    }

    private static CutPlanView PlanOf(string cable, double[] lengths, double reelMetres)
    {
        var plan = CutPlanner.Plan(lengths, reelMetres);
        return new CutPlanView
        {
            Cable = cable,
            ReelMetres = reelMetres,
            Reels = [.. plan.Reels.Select(cuts => new ReelView(cuts, Math.Round(reelMetres - cuts.Sum(), 2)))],
            LeastReels = plan.LeastReels,
            TooLongMetres = plan.TooLong,
        };
    }

    private static SiteStates Kept(SiteStates states) => states with
    {
        Ducts = [.. states.Ducts.Where(view => view.SameAs is null)],
        Cables = [.. states.Cables.Where(view => view.SameAs is null)],
        Boxes = [.. states.Boxes.Where(view => view.SameAs is null)],
        Circuits = [.. states.Circuits.Where(view => view.SameAs is null)],
    };
}

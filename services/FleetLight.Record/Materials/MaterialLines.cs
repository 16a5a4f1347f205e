using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Files;
using FleetLight.Record.Sites;

namespace FleetLight.Record.Materials;

/// <summary>Sets what is needed beside what was recorded as used.</summary>
internal sealed class MaterialLines
{
    private readonly List<MaterialLine> lines = [];

    public static IReadOnlyList<MaterialLine> Of(SiteStates states, MaterialNeeds needs, MaterialAssumptions assumed, Func<JointView, bool> isOurs)
    {
        var list = new MaterialLines();
        list.AddDucts(states, needs, assumed);
        list.AddCables(states, needs);
        list.AddPieces(states, needs, isOurs);
        list.AddBoxes(states, needs, assumed);
        list.AddLabels(states, needs);
        return list.lines;
    }

    private void AddDucts(SiteStates states, MaterialNeeds needs, MaterialAssumptions assumed)
    {
        var laid = states.Ducts.Where(duct => duct.LengthMetres is not null).ToList();
        if (needs.BuriedMetres > 0)
        {
            var lighting = laid.Where(duct => duct.Service == DuctService.LightingExtraLowVoltage).Sum(duct => duct.LengthMetres!.Value);
            Add(
                MaterialSort.Duct, "Duct for the runs in the ground", MaterialUnit.Metres, needs.BuriedMetres, lighting,
                "The runs one by one: where several share a duct, less is needed. The design says no bore.");
        }

        foreach (var group in laid.GroupBy(duct => (duct.Service, duct.BoreMillimetres)).OrderBy(group => group.Key))
        {
            var service = group.Key.Service is { } known ? Words.Said(known) : "service not stated";
            Add(
                MaterialSort.Duct, $"Duct laid, {service}, bore {Words.Of(group.Key.BoreMillimetres, "mm")}", MaterialUnit.Metres, null,
                group.Sum(duct => duct.LengthMetres!.Value));
        }

        var drawn = laid.Where(duct => duct.Service is not (DuctService.Water or DuctService.Gas)).ToList();
        if (drawn.Count == 0) return;
        double Length(DuctView duct) => duct.LengthMetres!.Value + (2 * assumed.StringEndMetres);
        Add(
            MaterialSort.DrawString, "Draw string, one in each duct", MaterialUnit.Metres, drawn.Sum(Length),
            drawn.Where(duct => duct.StringInside).Sum(Length));
    }

    private void AddCables(SiteStates states, MaterialNeeds needs)
    {
        var pulled = states.Cables.Where(cable => cable is { LengthMetres: not null, AreaSquareMillimetres: not null, ConductorClass: not null })
            .ToLookup(cable => Cuts.KindOf(cable.Cores.Count, cable.AreaSquareMillimetres!.Value, cable.ConductorClass!.Value), cable => cable.LengthMetres!.Value);
        var cut = needs.Cuts.ToLookup(one => one.Cable, one => one.CutMetres);
        foreach (var kind in cut.Select(group => group.Key).Union(pulled.Select(group => group.Key)).Order(StringComparer.Ordinal))
        {
            Add(
                MaterialSort.Cable, $"Cable {kind}", MaterialUnit.Metres, cut.Contains(kind) ? cut[kind].Sum() : null,
                pulled[kind].Sum(), cut.Contains(kind) ? null : "No design asks for cable of this kind; a number of cores that is not recorded is taken as two.");
        }
    }

    private void AddPieces(SiteStates states, MaterialNeeds needs, Func<JointView, bool> isOurs)
    {
        if (needs.Fittings > 0 || states.Circuits.Any(circuit => circuit.Fittings.Count > 0))
        {
            Add(
                MaterialSort.Fitting, "Fittings", MaterialUnit.Pieces, needs.Fittings,
                states.Circuits.Sum(circuit => circuit.Fittings.Count(fitting => fitting.Fixed)));
        }

        var made = states.Boxes.SelectMany(box => box.Joints).Where(isOurs).ToList();
        var wanted = needs.Boxes.SelectMany(box => box.Joints).Where(joint => joint.ConductorsPerConnector.Count > 0).ToList();
        if (wanted.Count + made.Count > 0) Add(MaterialSort.Joint, "Joints", MaterialUnit.Pieces, wanted.Count, made.Count);
        var asked = Ways(wanted.SelectMany(joint => joint.ConductorsPerConnector));
        var used = Ways(made.SelectMany(joint => joint.ConductorsPerConnector));
        foreach (var ways in asked.Keys.Union(used.Keys).Order())
        {
            Add(
                MaterialSort.Connector, $"Connectors for {ways} conductor{(ways == 1 ? "" : "s")}", MaterialUnit.Pieces, asked.GetValueOrDefault(ways),
                used.GetValueOrDefault(ways));
        }
    }

    private void AddBoxes(SiteStates states, MaterialNeeds needs, MaterialAssumptions assumed)
    {
        var boxes = needs.Boxes;
        var closed = states.Boxes.Where(box => box.SealedAt is not null).ToList();
        if (boxes.Count + closed.Count == 0) return;
        Add(MaterialSort.Box, "Joint boxes", MaterialUnit.Pieces, boxes.Count, closed.Count);
        Add(MaterialSort.Gland, "Glands, one for each cable that enters a box", MaterialUnit.Pieces, boxes.Sum(box => box.Glands), null, "No fact records glands.");
        // Only a box that is known to lie above the ground does without.
        var above = boxes.Count(box => box.BoxId is { } id && states.Boxes.FirstOrDefault(one => one.Id == id)?.Lie is BoxLie.OnWall or BoxLie.OnSpike);
        Add(
            MaterialSort.Gel, "Gel for the boxes in the ground", MaterialUnit.Millilitres, (boxes.Count - above) * assumed.GelMillilitres,
            closed.Count(box => box.GelFilled == true) * assumed.GelMillilitres, "Recorded is how many boxes were filled; the volume of each is taken for granted.");
    }

    private void AddLabels(SiteStates states, MaterialNeeds needs)
    {
        var ducts = states.Ducts.Count(duct => duct.LengthMetres is not null);
        if (ducts > 0) Add(MaterialSort.Label, "Labels for ducts, one at each end", MaterialUnit.Pieces, 2 * ducts, states.Ducts.Sum(duct => duct.Labels?.Count ?? 0));
        var runs = needs.Cuts.Count(cut => cut.RunId is not null);
        var cables = Math.Max(runs, states.Cables.Count);
        if (cables > 0) Add(MaterialSort.Label, "Labels for cables, one at each end", MaterialUnit.Pieces, 2 * cables, states.Cables.Sum(cable => cable.Labels?.Count ?? 0));
        var boxes = Math.Max(needs.Boxes.Count, states.Boxes.Count);
        if (boxes > 0) Add(MaterialSort.Label, "Labels for boxes", MaterialUnit.Pieces, boxes, states.Boxes.Count(box => box.Label is not null));
    }

    private static Dictionary<int, int> Ways(IEnumerable<int> conductors) => conductors.GroupBy(ways => ways).ToDictionary(group => group.Key, group => group.Count());

    private void Add(MaterialSort sort, string item, MaterialUnit unit, double? needed, double? recorded, string? note = null) => lines.Add(new MaterialLine
    {
        Sort = sort,
        Item = item,
        Unit = unit,
        Needed = Rounded(needed),
        Recorded = Rounded(recorded),
        Difference = Rounded(needed - recorded),
        Note = note,
    });

    private static double? Rounded(double? value) => value is { } known ? Math.Round(known, 2) : null;
}

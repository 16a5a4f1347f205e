using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Sites;

namespace FleetLight.Record.Materials;

/// <summary>What designs ask for, added up.</summary>
internal sealed class MaterialNeeds(SiteStates states, MaterialAssumptions assumed)
{
    private readonly List<CableCut> cuts = [];
    private readonly List<FittingLead> leads = [];
    private readonly SortedDictionary<(bool IsBeside, string Id), (int Entries, List<JointNeed> Joints)> boxes = [];

    /// <summary>Lengths of cable.</summary>
    public IReadOnlyList<CableCut> Cuts => cuts;

    /// <summary>Leads of fittings.</summary>
    public IReadOnlyList<FittingLead> Leads => leads;

    /// <summary>Number of fittings.</summary>
    public int Fittings { get; private set; }

    /// <summary>Length of runs that lie in the ground, m.</summary>
    public double BuriedMetres { get; private set; }

    /// <summary>Joint boxes.</summary>
    public IReadOnlyList<BoxNeed> Boxes =>
    [
        .. boxes.Select(pair => new BoxNeed
        {
            BoxId = pair.Key.IsBeside ? null : pair.Key.Id,
            BesideFittingId = pair.Key.IsBeside ? pair.Key.Id : null,
            Entries = pair.Value.Entries,
            Glands = IsThroughMembrane(pair.Key) ? 0 : pair.Value.Entries,
            Joints = pair.Value.Joints,
        }),
    ];

    /// <summary>Adds a design.</summary>
    public void Add(CircuitDesigned design, IReadOnlyDictionary<string, CableView> cables)
    {
        var places = new DesignPlaces(design);
        Fittings += design.Fittings.Length;
        BuriedMetres += design.Runs.Where(run => run.Surroundings is null or RunSurroundings.Buried).Sum(run => run.LengthMetres);
        cuts.AddRange(Materials.Cuts.Of(design, cables, assumed));
        leads.AddRange(Materials.Leads.Of(design, places, states.Circuits.FirstOrDefault(one => one.Id == design.CircuitId), states.Boxes, assumed));
        foreach (var (place, isBox, entries, joint) in places.Joints())
        {
            var key = (!isBox, place);
            var (before, joints) = boxes.TryGetValue(key, out var known) ? known : (0, []);
            joints.Add(joint);
            boxes[key] = (before + entries, joints);
        }
    }

    private bool IsThroughMembrane((bool IsBeside, string Id) key) =>
        !key.IsBeside && states.Boxes.FirstOrDefault(box => box.Id == key.Id)?.Entry == BoxEntry.Membrane;
}

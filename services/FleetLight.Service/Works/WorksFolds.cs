using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;
using FleetLight.Record.Works;

namespace FleetLight.Service.Works;

/// <summary>
/// The folds of the core as the projection runs them. They are a part of the host like any other, so that a test can put folds
/// in their place that fail.
/// </summary>
public class WorksFolds
{
    /// <summary>The state of a site.</summary>
    public virtual SiteView Site(IWorks works, string id) => WorksFold.Site(works, id);

    /// <summary>The state of a cable.</summary>
    public virtual CableView Cable(IWorks works, string id) => WorksFold.Cable(works, id);

    /// <summary>The state of a box.</summary>
    public virtual BoxView Box(IWorks works, string id) => WorksFold.Box(works, id);

    /// <summary>The state of a duct.</summary>
    public virtual DuctView Duct(IWorks works, string id) => WorksFold.Duct(works, id);

    /// <summary>What follows for a circuit from all its facts but the readings.</summary>
    public virtual CircuitBasis Basis(IWorks works, string id) => WorksFold.Basis(works, id);

    /// <summary>The state of a circuit with its readings judged.</summary>
    public virtual CircuitView Judge(CircuitBasis basis, RecentReadings recent, KeptJudgements? judged) =>
        CircuitJudge.Judge(basis, recent.Window, judged, explains: false, recent.History);
}

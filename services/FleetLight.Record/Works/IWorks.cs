using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;
using FleetLight.Record.Files;

namespace FleetLight.Record.Works;

/// <summary>
/// What a fold may look at: files, links and the states of other things, at hand before the fold begins.
/// </summary>
public interface IWorks
{
    /// <summary>How the organisation wants circuits judged.</summary>
    Judging Judging { get; }

    /// <summary>The file of a thing; an empty one where there is none.</summary>
    ThingFile FileOf(ThingRef thing);

    /// <summary>The things at the other end of a thing's links.</summary>
    IReadOnlyCollection<ThingRef> Linked(LinkAsk ask);

    /// <summary>The state of a site, where there is one.</summary>
    SiteView? SiteOf(string id);

    /// <summary>The state of a cable, where there is one.</summary>
    CableView? CableOf(string id);

    /// <summary>The state of a duct, where there is one.</summary>
    DuctView? DuctOf(string id);

    /// <summary>The state of a box, where there is one.</summary>
    BoxView? BoxOf(string id);
}

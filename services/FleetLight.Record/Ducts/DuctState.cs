using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Corrections;

namespace FleetLight.Record.Ducts;

/// <summary>A cable that lies in a duct.</summary>
/// <param name="CableId">The cable.</param>
/// <param name="OutsideDiameterMillimetres">Its outside diameter, mm, where known.</param>
/// <param name="CircuitIds">The circuits that its cores carry.</param>
/// <param name="Pull">The fact that brought it there.</param>
public sealed record CableInDuct(
    string CableId,
    double? OutsideDiameterMillimetres,
    IReadOnlyList<string> CircuitIds,
    Counted<CablePulled> Pull);

/// <summary>What is known of a duct, with the facts behind it: what its rules look at.</summary>
public sealed record DuctState
{
    /// <summary>The duct.</summary>
    public required ThingRef Subject { get; init; }

    /// <summary>How it was laid, newest.</summary>
    public Counted<DuctLaid>? Laid { get; init; }

    /// <summary>What the site calls for where ducts of this service are laid.</summary>
    public DuctCall? Call { get; init; }

    /// <summary>The cables in it, in the order in which they were pulled.</summary>
    public required IReadOnlyList<CableInDuct> Cables { get; init; }

    /// <summary>The newest pull through it.</summary>
    public Counted<CablePulled>? LastPull { get; init; }

    /// <summary>The plug that closes each end since the newest pull.</summary>
    public required IReadOnlyDictionary<RunEnd, Counted<DuctPlugged>> Plugs { get; init; }

    /// <summary>Its labels, newest of each end.</summary>
    public required IReadOnlyDictionary<RunEnd, Counted<DuctLabelled>> Labels { get; init; }

    /// <summary>The string that waits in it: left with or after the newest pull.</summary>
    public Counted<StringLeft>? StringInside { get; init; }

    /// <summary>The circuits on its cables.</summary>
    public required IReadOnlyList<string> CircuitIds { get; init; }

    /// <summary>Share of the bore that its cables fill, %; none where a diameter is not known.</summary>
    public double? FillPercent { get; init; }

    /// <summary>Outside diameter of the thickest further cable at the usual greatest fill, mm; 0 for none, none where a diameter is not known.</summary>
    public double? ThickestMoreMillimetres { get; init; }
}

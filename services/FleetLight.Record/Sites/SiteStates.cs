using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;

namespace FleetLight.Record.Sites;

/// <summary>The states of everything on a site. Things that were found to be another may stand among them; they are passed over.</summary>
public sealed record SiteStates
{
    /// <summary>The site.</summary>
    public required string SiteId { get; init; }

    /// <summary>The site itself, where anything was recorded of it.</summary>
    public SiteView? Site { get; init; }

    /// <summary>Its ducts.</summary>
    public IReadOnlyList<DuctView> Ducts { get; init; } = [];

    /// <summary>Its cables.</summary>
    public IReadOnlyList<CableView> Cables { get; init; } = [];

    /// <summary>Its boxes.</summary>
    public IReadOnlyList<BoxView> Boxes { get; init; } = [];

    /// <summary>Its circuits. What would explain their readings is not looked at.</summary>
    public IReadOnlyList<CircuitView> Circuits { get; init; } = [];

    /// <summary>The newest design of each circuit, by its id, where it is at hand: it says more of what is still to be done.</summary>
    public IReadOnlyDictionary<string, CircuitDesigned> Designs { get; init; } = new Dictionary<string, CircuitDesigned>();
}

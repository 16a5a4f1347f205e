using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>What a fault's definition may ask in order to list its cases on a circuit.</summary>
public sealed class FaultScope
{
    internal FaultScope(CircuitModel model, DiagnosisOptions options, ImmutableArray<string> nodeNames)
    {
        Model = model;
        Options = options;
        NodeNames = nodeNames;
    }

    /// <summary>The circuit as recorded.</summary>
    public CircuitModel Model { get; }

    /// <summary>What to look for.</summary>
    public DiagnosisOptions Options { get; }

    /// <summary>The names of the circuit's nodes: the driver first, then the ends of its runs and its fittings.</summary>
    public ImmutableArray<string> NodeNames { get; }

    /// <summary>The wattages that a fitting may have, of the catalogue and of the circuit, ascending, W.</summary>
    public ImmutableArray<double> Wattages { get; internal init; } = [];

    /// <summary>
    /// The fittings as loads; those of one make that the readings cannot tell apart are one entry. A fault that makes one
    /// dark, brighter or dimmer is put into each entry.
    /// </summary>
    public ImmutableArray<Alike> Fittings { get; internal init; } = [];

    /// <summary>The fittings as places where the two cores may be connected, likewise.</summary>
    public ImmutableArray<Alike> FittingsAsShorts { get; internal init; } = [];

    /// <summary>
    /// The runs as places of a break or a bad joint, likewise. The index −1 stands for the driver's terminals.
    /// </summary>
    public ImmutableArray<Alike> RunPlaces { get; internal init; } = [];

    /// <summary>The runs as cables, likewise; those in one entry are of one length and make.</summary>
    public ImmutableArray<Alike> Cables { get; internal init; } = [];

    /// <summary>
    /// The nodes, by their index in <see cref="NodeNames"/>, as places of a leak between the cores, likewise.
    /// </summary>
    public ImmutableArray<Alike> LeakNodes { get; internal init; } = [];

    /// <summary>The nodes but the driver's as places where one more fitting may hang, likewise.</summary>
    public ImmutableArray<Alike> LoadNodes { get; internal init; } = [];

    /// <summary>The quantities of the readings used, each once.</summary>
    public ImmutableArray<MeasuredQuantity> Quantities { get; internal init; } = [];

    /// <summary>For each reading used its quantity.</summary>
    public ImmutableArray<MeasuredQuantity> QuantityOfReading { get; internal init; } = [];

    /// <summary>The names of a group of nodes.</summary>
    public ImmutableArray<string> NamesOf(Alike nodes) => [.. nodes.All.OrEmpty().Select(i => NodeNames[i])];
}

/// <summary>Things that the readings cannot tell apart: one stands for all.</summary>
/// <param name="Lead">Index of the one that stands for all.</param>
/// <param name="All">The indices of all, with the lead's.</param>
public readonly record struct Alike(int Lead, ImmutableArray<int> All)
{
    /// <summary>How many there are.</summary>
    public int Count => All.OrEmpty().Length;
}

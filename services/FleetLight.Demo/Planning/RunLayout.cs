using FleetLight.Contracts;
using FleetLight.Contracts.Facts;

namespace FleetLight.Demo.Planning;

/// <summary>Lays the runs of one circuit out in the garden, place by place.</summary>
internal sealed class RunLayout(SiteGround ground, string circuitId, BoxLie lie, Chance chance)
{
    private readonly Dictionary<string, (Spot At, string Name)> places = new(StringComparer.Ordinal);
    private readonly double heading = chance.Between(0, 360);
    private readonly List<RunPlan> runs = [];

    /// <summary>The runs laid out so far.</summary>
    public IReadOnlyList<RunPlan> Runs => runs;

    /// <summary>Conductor area of every run, mm².</summary>
    public required double AreaSquareMillimetres { get; init; }

    /// <summary>Conductor class of every run.</summary>
    public required ConductorClass ConductorClass { get; init; }

    /// <summary>Whether every cable has a third core.</summary>
    public bool SpareCore { get; init; }

    /// <summary>Adds a run.</summary>
    /// <param name="from">The place it starts at; none for the driver.</param>
    /// <param name="fittingId">The fitting at its far end; none for a box alone.</param>
    /// <param name="ductMetres">Length of its own duct, m.</param>
    /// <param name="turn">Degrees that it turns from the circuit's heading.</param>
    /// <param name="colour">Colour of its own duct.</param>
    /// <returns>The place at its far end.</returns>
    public string Add(string? from, string? fittingId, double ductMetres, double turn = 0, DuctColour colour = DuctColour.Orange)
    {
        var number = runs.Count + 1;
        var boxId = $"{circuitId}-b{number:d2}";
        var to = fittingId ?? boxId;
        var metres = Math.Round(ductMetres, 1);
        var (start, startName) = from is null ? (ground.TrunkEnd, "draw pit") : places[from];
        var end = start.Away(metres * 0.97, heading + turn + chance.Between(-25, 25));
        var name = $"box {boxId}";
        places[to] = (end, name);
        var own = ground.OwnDuct(start, end, metres, colour, startName, name);
        DuctPlan[] ducts = from is null ? [ground.Trunk, own] : [own];
        var pulled = Math.Round(ducts.Sum(duct => duct.Laid.LengthMetres) + chance.Between(1.2, 2.4), 1);
        var entry = lie != BoxLie.OnWall || chance.Once(0.6) ? BoxEntry.Glands : BoxEntry.Membrane;
        runs.Add(new RunPlan(
            new RunDesign
            {
                RunId = $"{circuitId}-r{number:d2}",
                From = from ?? "driver",
                To = to,
                LengthMetres = Math.Ceiling(pulled),
                AreaSquareMillimetres = AreaSquareMillimetres,
                ConductorClass = ConductorClass,
                CableId = $"{circuitId}-k{number:d2}",
            },
            pulled,
            ducts,
            SpareCore,
            new BoxPlan(boxId, lie, entry, end)));
        return to;
    }
}

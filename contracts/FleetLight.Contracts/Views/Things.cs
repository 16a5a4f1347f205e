using System.Text.Json.Serialization;
using FleetLight.Contracts.Facts;

namespace FleetLight.Contracts.Views;

/// <summary>A fact, named.</summary>
public sealed record FactLine
{
    /// <summary><c>source#id</c>.</summary>
    public required string Fact { get; init; }

    /// <summary>Type of the fact.</summary>
    public required string Type { get; init; }

    /// <summary>When it happened.</summary>
    public required DateTimeOffset HappenedAt { get; init; }

    /// <summary>When it was known.</summary>
    public required DateTimeOffset RecordedAt { get; init; }

    /// <summary>Whether a correction withdrew it, or other data counts in its place.</summary>
    public CorrectionAction? Corrected { get; init; }

    /// <summary>Why it was corrected.</summary>
    public string? CorrectionReason { get; init; }
}

/// <summary>What every thing's state says.</summary>
public abstract record ThingView
{
    /// <summary>The thing.</summary>
    [JsonPropertyOrder(-9)]
    public required string Id { get; init; }

    /// <summary>The site; none until a fact that describes the thing is known.</summary>
    [JsonPropertyOrder(-8)]
    public string? SiteId { get; init; }

    /// <summary>The id that stays, where this one was found to be the same thing.</summary>
    [JsonPropertyOrder(-7)]
    public string? SameAs { get; init; }

    /// <summary>What the state waits for before it is whole, in plain words.</summary>
    [JsonPropertyOrder(1)]
    public required IReadOnlyList<string> WaitingFor { get; init; }

    /// <summary>Facts that contradict one another, in plain words.</summary>
    [JsonPropertyOrder(2)]
    public required IReadOnlyList<string> Contradictions { get; init; }

    /// <summary>What the rules find now.</summary>
    [JsonPropertyOrder(3)]
    public required IReadOnlyList<Finding> Findings { get; init; }

    /// <summary>The facts in the order in which they happened, newest last, at most 200.</summary>
    [JsonPropertyOrder(4)]
    public required IReadOnlyList<FactLine> Facts { get; init; }
}

/// <summary>State of a site.</summary>
public sealed record SiteView : ThingView
{
    /// <summary>What people call it.</summary>
    public string? Name { get; init; }

    /// <summary>Where it is, in words.</summary>
    public string? Place { get; init; }

    /// <summary>Where it is.</summary>
    public GeoPoint? Position { get; init; }

    /// <summary>Its reference points, by their ids; absent where there are none.</summary>
    public IReadOnlyList<ReferencePointView>? ReferencePoints { get; init; }

    /// <summary>What the job calls for.</summary>
    public IReadOnlyList<DuctCall>? DuctCalls { get; init; }

    /// <summary>When work began.</summary>
    public DateTimeOffset? OpenedAt { get; init; }
}

/// <summary>State of a duct.</summary>
public sealed record DuctView : ThingView
{
    /// <summary>What it is for.</summary>
    public DuctService? Service { get; init; }

    /// <summary>Its colour as seen.</summary>
    public DuctColour? Colour { get; init; }

    /// <summary>Its wall.</summary>
    public DuctWall? Wall { get; init; }

    /// <summary>Inside diameter, mm.</summary>
    public double? BoreMillimetres { get; init; }

    /// <summary>Length, m.</summary>
    public double? LengthMetres { get; init; }

    /// <summary>Depth of cover, mm.</summary>
    public double? DepthMillimetres { get; init; }

    /// <summary>Sum of its bends, degrees.</summary>
    public double? BendsDegrees { get; init; }

    /// <summary>Its route.</summary>
    public GeoLine? Route { get; init; }

    /// <summary>Its measured points from the near end to the far end; absent where none was measured.</summary>
    public IReadOnlyList<RunPointView>? Points { get; init; }

    /// <summary>Where the near end comes up.</summary>
    public string? NearEndAt { get; init; }

    /// <summary>Where the far end comes up.</summary>
    public string? FarEndAt { get; init; }

    /// <summary>What its labels say: near end, far end.</summary>
    public IReadOnlyDictionary<RunEnd, string>? Labels { get; init; }

    /// <summary>The ends plugged since the last cable went in.</summary>
    public required IReadOnlyList<RunEnd> PluggedEnds { get; init; }

    /// <summary>Whether a string waits in it for the next cable.</summary>
    public required bool StringInside { get; init; }

    /// <summary>How the string got there.</summary>
    public StringMethod? StringMethod { get; init; }

    /// <summary>The cables in it.</summary>
    public required IReadOnlyList<string> CableIds { get; init; }

    /// <summary>When the last cable went in.</summary>
    public DateTimeOffset? LastPullAt { get; init; }

    /// <summary>Share of the bore that its cables fill, %, where all their diameters are known.</summary>
    public double? FillPercent { get; init; }

    /// <summary>
    /// Outside diameter of the thickest further cable at the usual greatest fill of 45 %, mm; 0 for none. Where a diameter or the bore is
    /// not known, it is absent. Guidance, not a limit.
    /// </summary>
    public double? ThickestMoreMillimetres { get; init; }
}

/// <summary>State of a core.</summary>
public sealed record CoreView
{
    /// <summary>Its colour or number.</summary>
    public required string Core { get; init; }

    /// <summary>What it is used for.</summary>
    public required CoreUse Use { get; init; }

    /// <summary>The circuit it carries.</summary>
    public string? CircuitId { get; init; }

    /// <summary>Polarity that its sleeves say, by end.</summary>
    public required IReadOnlyDictionary<RunEnd, CorePolarity> Sleeves { get; init; }
}

/// <summary>State of a cable.</summary>
public sealed record CableView : ThingView
{
    /// <summary>Length, m.</summary>
    public double? LengthMetres { get; init; }

    /// <summary>Conductor area, mm².</summary>
    public double? AreaSquareMillimetres { get; init; }

    /// <summary>Conductor class.</summary>
    public ConductorClass? ConductorClass { get; init; }

    /// <summary>Outside diameter, mm.</summary>
    public double? OutsideDiameterMillimetres { get; init; }

    /// <summary>Its measured ends (a spare end in the ground, for instance); absent where none was measured.</summary>
    public IReadOnlyList<RunPointView>? Points { get; init; }

    /// <summary>The ducts it passes.</summary>
    public required IReadOnlyList<string> DuctIds { get; init; }

    /// <summary>Its cores.</summary>
    public required IReadOnlyList<CoreView> Cores { get; init; }

    /// <summary>Number of cores free for later use.</summary>
    public required int SpareCores { get; init; }

    /// <summary>What its labels say, by end.</summary>
    public IReadOnlyDictionary<RunEnd, string>? Labels { get; init; }

    /// <summary>When it was pulled.</summary>
    public DateTimeOffset? PulledAt { get; init; }
}

/// <summary>State of a joint.</summary>
public sealed record JointView
{
    /// <summary>The joint.</summary>
    public required string JointId { get; init; }

    /// <summary>The circuit it serves.</summary>
    public required string CircuitId { get; init; }

    /// <summary>How it is arranged.</summary>
    public required JointArrangement Arrangement { get; init; }

    /// <summary>Number of conductors in each connector.</summary>
    public required IReadOnlyList<int> ConductorsPerConnector { get; init; }

    /// <summary>Whether it sits directly under a fitting.</summary>
    public required bool UnderFitting { get; init; }
}

/// <summary>State of a box.</summary>
public sealed record BoxView : ThingView
{
    /// <summary>How it lies.</summary>
    public BoxLie? Lie { get; init; }

    /// <summary>How its cables enter.</summary>
    public BoxEntry? Entry { get; init; }

    /// <summary>Whether the cables are held against pull.</summary>
    public bool? StrainRelief { get; init; }

    /// <summary>Whether it is filled with gel.</summary>
    public bool? GelFilled { get; init; }

    /// <summary>Whether it can breathe.</summary>
    public bool? Breathing { get; init; }

    /// <summary>What it is called.</summary>
    public string? Label { get; init; }

    /// <summary>Where it is.</summary>
    public GeoPoint? Position { get; init; }

    /// <summary>The measured place that counts, with how well it is known; absent where nobody ever said how it was found.</summary>
    public PlacementView? Placement { get; init; }

    /// <summary>All its measured places, oldest first; absent where nobody ever said how one was found.</summary>
    public IReadOnlyList<PlacementView>? Placements { get; init; }

    /// <summary>When it was last closed.</summary>
    public DateTimeOffset? SealedAt { get; init; }

    /// <summary>The joints in it.</summary>
    public required IReadOnlyList<JointView> Joints { get; init; }
}

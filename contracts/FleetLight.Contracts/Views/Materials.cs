namespace FleetLight.Contracts.Views;

/// <summary>What a circuit or a site takes by its design, and what was recorded as used. A help for ordering, never a bill.</summary>
public sealed record MaterialsView
{
    /// <summary>The site.</summary>
    public string? SiteId { get; init; }

    /// <summary>The circuits whose designs are counted.</summary>
    public required IReadOnlyList<string> CircuitIds { get; init; }

    /// <summary>What is taken for granted where nothing is recorded; each may be set otherwise.</summary>
    public required IReadOnlyList<MaterialAssumption> Assumptions { get; init; }

    /// <summary>What is needed by the designs, what was recorded as used, and the difference.</summary>
    public required IReadOnlyList<MaterialLine> Lines { get; init; }

    /// <summary>Every length of cable to be cut, by kind of cable, then the longest first.</summary>
    public required IReadOnlyList<CableCut> Cuts { get; init; }

    /// <summary>From which reel each length is cut.</summary>
    public required IReadOnlyList<CutPlanView> CutPlans { get; init; }

    /// <summary>How long the lead of each fitting has to be, so that its joint lies in a box and not under the fitting.</summary>
    public required IReadOnlyList<FittingLead> Leads { get; init; }

    /// <summary>What goes into each joint box.</summary>
    public required IReadOnlyList<BoxNeed> Boxes { get; init; }

    /// <summary>What cannot be worked out until more is recorded, in plain words.</summary>
    public required IReadOnlyList<string> Missing { get; init; }
}

/// <summary>Something taken for granted.</summary>
/// <param name="Name">Its name; the query parameter that sets it otherwise.</param>
/// <param name="Value">Its value, in the unit that stands beside it.</param>
/// <param name="Unit">The unit of the value.</param>
/// <param name="Says">What it means, and where it comes from.</param>
public sealed record MaterialAssumption(string Name, double Value, string Unit, string Says);

/// <summary>Sorts of material.</summary>
public enum MaterialSort
{
    /// <summary>Duct, in metres.</summary>
    Duct,

    /// <summary>Draw string, in metres.</summary>
    DrawString,

    /// <summary>Cable, in metres.</summary>
    Cable,

    /// <summary>Fittings, counted.</summary>
    Fitting,

    /// <summary>Joint boxes, counted.</summary>
    Box,

    /// <summary>Joints, counted.</summary>
    Joint,

    /// <summary>Connectors, counted.</summary>
    Connector,

    /// <summary>Glands, counted.</summary>
    Gland,

    /// <summary>Gel, in millilitres.</summary>
    Gel,

    /// <summary>Labels, counted.</summary>
    Label,
}

/// <summary>How a material is measured.</summary>
public enum MaterialUnit
{
    /// <summary>Pieces.</summary>
    Pieces,

    /// <summary>Metres.</summary>
    Metres,

    /// <summary>Millilitres.</summary>
    Millilitres,
}

/// <summary>One material.</summary>
public sealed record MaterialLine
{
    /// <summary>What sort it is.</summary>
    public required MaterialSort Sort { get; init; }

    /// <summary>What it is, in plain words.</summary>
    public required string Item { get; init; }

    /// <summary>How it is measured.</summary>
    public required MaterialUnit Unit { get; init; }

    /// <summary>What the designs ask for, with what is taken for granted, in the unit of the line; none where they do not say.</summary>
    public double? Needed { get; init; }

    /// <summary>What was recorded as used, in the unit of the line; none where no fact records it.</summary>
    public double? Recorded { get; init; }

    /// <summary>What is needed less what was recorded, in the unit of the line: below zero where more was used.</summary>
    public double? Difference { get; init; }

    /// <summary>What to mind about the figures.</summary>
    public string? Note { get; init; }
}

/// <summary>A length of cable to be cut.</summary>
public sealed record CableCut
{
    /// <summary>The circuit.</summary>
    public required string CircuitId { get; init; }

    /// <summary>The run, where it is one.</summary>
    public string? RunId { get; init; }

    /// <summary>The fitting, where it is the fitting's own tail.</summary>
    public string? FittingId { get; init; }

    /// <summary>Where it starts.</summary>
    public required string From { get; init; }

    /// <summary>Where it ends.</summary>
    public required string To { get; init; }

    /// <summary>The cable that makes the run, where it is known.</summary>
    public string? CableId { get; init; }

    /// <summary>What kind of cable it is, in plain words.</summary>
    public required string Cable { get; init; }

    /// <summary>Number of its cores.</summary>
    public required int Cores { get; init; }

    /// <summary>Conductor area, mm².</summary>
    public required double AreaSquareMillimetres { get; init; }

    /// <summary>Conductor class of IEC 60228.</summary>
    public required ConductorClass ConductorClass { get; init; }

    /// <summary>Length by the design, m.</summary>
    public required double DesignedMetres { get; init; }

    /// <summary>Length to cut, m: with the allowance and both ends.</summary>
    public required double CutMetres { get; init; }

    /// <summary>Length that was pulled, m, where that is recorded.</summary>
    public double? PulledMetres { get; init; }
}

/// <summary>From which reels the lengths of a kind of cable are cut: the longest first, each from the first reel that has enough left.</summary>
public sealed record CutPlanView
{
    /// <summary>The kind of cable.</summary>
    public required string Cable { get; init; }

    /// <summary>Length of a full reel, m.</summary>
    public required double ReelMetres { get; init; }

    /// <summary>The reels.</summary>
    public required IReadOnlyList<ReelView> Reels { get; init; }

    /// <summary>Number of reels below which no plan can go; this one is the best there is where it needs no more.</summary>
    public required int LeastReels { get; init; }

    /// <summary>Lengths longer than a full reel, m: to be ordered as they are.</summary>
    public required IReadOnlyList<double> TooLongMetres { get; init; }
}

/// <summary>A reel and what is cut from it.</summary>
/// <param name="CutMetres">The lengths, m.</param>
/// <param name="LeftMetres">What is left on it, m.</param>
public sealed record ReelView(IReadOnlyList<double> CutMetres, double LeftMetres);

/// <summary>The lead of a fitting.</summary>
public sealed record FittingLead
{
    /// <summary>The circuit.</summary>
    public required string CircuitId { get; init; }

    /// <summary>The fitting.</summary>
    public required string FittingId { get; init; }

    /// <summary>The box in which its joint lies, where it is known.</summary>
    public string? BoxId { get; init; }

    /// <summary>Distance from the fitting to the box, m, where it is known.</summary>
    public double? DistanceMetres { get; init; }

    /// <summary>What the distance rests on, in plain words.</summary>
    public string? DistanceBy { get; init; }

    /// <summary>Least length of the lead, m, where the distance is known.</summary>
    public double? LeadMetres { get; init; }

    /// <summary>Length of the fitting's own tail by the design, m.</summary>
    public double? TailMetres { get; init; }

    /// <summary>Whether the tail reaches; none where there is no telling.</summary>
    public bool? Reaches { get; init; }

    /// <summary>What is missing to tell how long it has to be, in plain words.</summary>
    public string? Missing { get; init; }
}

/// <summary>What goes into a joint box.</summary>
public sealed record BoxNeed
{
    /// <summary>The box; none for one that the design does not name, beside the fitting.</summary>
    public string? BoxId { get; init; }

    /// <summary>The fitting beside which it lies, where the design names no box.</summary>
    public string? BesideFittingId { get; init; }

    /// <summary>Number of cables and leads that enter it.</summary>
    public required int Entries { get; init; }

    /// <summary>Number of glands; none where its cables enter through a membrane.</summary>
    public required int Glands { get; init; }

    /// <summary>Its joints.</summary>
    public required IReadOnlyList<JointNeed> Joints { get; init; }
}

/// <summary>The joint of a circuit in a box.</summary>
/// <param name="CircuitId">The circuit.</param>
/// <param name="Arrangement">How it is arranged.</param>
/// <param name="ConductorsPerConnector">Number of conductors in each of its connectors.</param>
public sealed record JointNeed(string CircuitId, JointArrangement Arrangement, IReadOnlyList<int> ConductorsPerConnector);

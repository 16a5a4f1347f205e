using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Facts;

namespace FleetLight.Contracts.Views;

/// <summary>The phase that a circuit has reached.</summary>
public enum CircuitPhase
{
    /// <summary>Named by a fact, its design not known yet.</summary>
    Named,

    /// <summary>Designed.</summary>
    Designed,

    /// <summary>Every cable of its runs is pulled.</summary>
    Cabled,

    /// <summary>Every fitting is fixed.</summary>
    Fitted,

    /// <summary>The driver is connected.</summary>
    Connected,

    /// <summary>Energised.</summary>
    Energised,

    /// <summary>Energised, read within what it should read, and tested as due.</summary>
    Proven,

    /// <summary>Handed over.</summary>
    HandedOver,
}

/// <summary>What a reading says of its circuit. Advice, never a certificate.</summary>
public enum CircuitVerdict
{
    /// <summary>Nothing was measured yet.</summary>
    Unread,

    /// <summary>Within what it should read.</summary>
    Within,

    /// <summary>Between within and outside.</summary>
    Doubtful,

    /// <summary>Outside what it should read.</summary>
    Outside,

    /// <summary>Cannot be judged; the reason says why.</summary>
    CannotBeJudged,
}

/// <summary>A value with its interval.</summary>
public sealed record ExpectedValue
{
    /// <summary>Best estimate, in the unit of the quantity.</summary>
    public required double Value { get; init; }

    /// <summary>Standard uncertainty (GUM), same unit.</summary>
    public required double StandardUncertainty { get; init; }

    /// <summary>Lower end of the 95 % interval, same unit.</summary>
    public required double Low { get; init; }

    /// <summary>Upper end of the 95 % interval, same unit.</summary>
    public required double High { get; init; }
}

/// <summary>What a circuit should read at one place.</summary>
public sealed record ExpectedReading
{
    /// <summary>Where.</summary>
    public required ReadingPlaceKind Place { get; init; }

    /// <summary>The box or fitting.</summary>
    public string? PlaceId { get; init; }

    /// <summary>What.</summary>
    public required ReadingQuantity Quantity { get; init; }

    /// <summary>The value, in V, mA or Ω.</summary>
    public required ExpectedValue Expected { get; init; }
}

/// <summary>A fault that would explain a reading.</summary>
public sealed record ExplanationView
{
    /// <summary>Kind of fault.</summary>
    public required string Fault { get; init; }

    /// <summary>What, where and what to do, in plain words.</summary>
    public required string Says { get; init; }

    /// <summary>Fittings or runs concerned; several where the readings cannot tell them apart.</summary>
    public required IReadOnlyList<string> At { get; init; }

    /// <summary>The reading it predicts, in the unit of the reading.</summary>
    public double? Predicts { get; init; }

    /// <summary>Quantity of the reading it predicts; the place is that of the reading behind the verdict.</summary>
    public ReadingQuantity? PredictsQuantity { get; init; }

    /// <summary>Likelihood relative to the other explanations listed, 0 to 1, no unit.</summary>
    public required double Likelihood { get; init; }

    /// <summary>What else would show if it were so, in plain words; none where nothing is told of it.</summary>
    public string? AlsoShows { get; init; }

    /// <summary>
    /// Number of the group, no unit: these readings cannot tell explanations with the same number apart.
    /// </summary>
    public required int Group { get; init; }
}

/// <summary>A reading that would tell most about what is wrong.</summary>
public sealed record NextReadingView
{
    /// <summary>Where: <c>driver</c>, a fitting or a box; every fitting for a look at which of them are lit.</summary>
    public required IReadOnlyList<string> Places { get; init; }

    /// <summary>What.</summary>
    public required MeasuredAs Quantity { get; init; }

    /// <summary>What to do, in plain words.</summary>
    public required string Says { get; init; }

    /// <summary>What to mind. Local codes and a licensed person's word come first.</summary>
    public required string Caution { get; init; }

    /// <summary>What it takes one person, min.</summary>
    [Quantity("min", 0, 1000000)]
    public required double Minutes { get; init; }

    /// <summary>How much it is expected to tell, bit: 1 settles an even choice between two.</summary>
    [Quantity("bit", 0, 1000)]
    public required double Bits { get; init; }

    /// <summary>What would be read there under the likeliest explanations, in plain words.</summary>
    public required IReadOnlyList<string> WouldRead { get; init; }
}

/// <summary>A reading and what was made of it.</summary>
public sealed record ReadingView
{
    /// <summary><c>source#id</c>.</summary>
    public required string Fact { get; init; }

    /// <summary>When it was taken.</summary>
    public required DateTimeOffset HappenedAt { get; init; }

    /// <summary>Where.</summary>
    public required ReadingPlaceKind Place { get; init; }

    /// <summary>The box or fitting.</summary>
    public string? PlaceId { get; init; }

    /// <summary>What.</summary>
    public required ReadingQuantity Quantity { get; init; }

    /// <summary>The value, in V, mA or Ω.</summary>
    public required double Value { get; init; }

    /// <summary>What it should have been.</summary>
    public ExpectedValue? Expected { get; init; }

    /// <summary>What it says.</summary>
    public required CircuitVerdict Verdict { get; init; }

    /// <summary>Why, in plain words.</summary>
    public required string Why { get; init; }

    /// <summary>
    /// Probability that the circuit is as designed given this reading alone, 0 to 1, no unit; none where it was not compared.
    /// </summary>
    public double? ProbabilityAsDesigned { get; init; }

    /// <summary>
    /// Version of the models by which it was judged, no unit. A newer version does not judge it again while the circuit, and
    /// how it is to be judged, stay as they are.
    /// </summary>
    public required int ModelVersion { get; init; }
}

/// <summary>
/// The judgement of the readings of the latest visit together. The risk of a false alarm that is set holds for it, however many
/// places were read. Advice, never a certificate.
/// </summary>
public sealed record TogetherView
{
    /// <summary>What it says.</summary>
    public required CircuitVerdict Verdict { get; init; }

    /// <summary>Why, in plain words.</summary>
    public required string Why { get; init; }

    /// <summary>Number of places and quantities that were compared, no unit.</summary>
    public required int Compared { get; init; }

    /// <summary>Of circuits that are as designed, the share whose readings would lie farther off, 0 to 1, no unit.</summary>
    public double? ShareFartherOff { get; init; }

    /// <summary>Probability that the circuit is as designed given all of them, 0 to 1, no unit.</summary>
    public double? ProbabilityAsDesigned { get; init; }

    /// <summary>The reading that fits least with the others and the design, <c>source#id</c>.</summary>
    public string? LeastFitting { get; init; }
}

/// <summary>How much more a driver could feed.</summary>
public sealed record HeadroomView
{
    /// <summary>Expected output as a share of the driver's greatest voltage, % (constant current).</summary>
    public double? VoltsLoadPercent { get; init; }

    /// <summary>Expected output as a share of the driver's greatest power, %.</summary>
    public double? WattsLoadPercent { get; init; }

    /// <summary>Volts left, V (constant current).</summary>
    public double? VoltsLeft { get; init; }

    /// <summary>Watts left, W.</summary>
    public double? WattsLeft { get; init; }

    /// <summary>Whether the driver is at or near its limit.</summary>
    public required bool NearLimit { get; init; }
}

/// <summary>The newest result of a kind of test.</summary>
public sealed record TestView
{
    /// <summary>Kind of test.</summary>
    public required TestKind Test { get; init; }

    /// <summary>Whether it was on the mains side.</summary>
    public required bool MainsSide { get; init; }

    /// <summary>When.</summary>
    public required DateTimeOffset HappenedAt { get; init; }

    /// <summary>Whether the figures meet the value named; none where they cannot be judged. Advice, never a certificate.</summary>
    public bool? Meets { get; init; }

    /// <summary>The value named, its source, and the caution, in plain words.</summary>
    public required string Says { get; init; }
}

/// <summary>State of a fitting on its circuit.</summary>
public sealed record FittingView
{
    /// <summary>The fitting.</summary>
    public required string FittingId { get; init; }

    /// <summary>Rated power, W, as fixed or else as designed.</summary>
    public required double RatedWatts { get; init; }

    /// <summary>Rated power by the design, W, where it differs.</summary>
    public double? DesignedWatts { get; init; }

    /// <summary>Whether it is fixed.</summary>
    public required bool Fixed { get; init; }

    /// <summary>Where it is.</summary>
    public GeoPoint? Position { get; init; }

    /// <summary>The measured place that counts, with how well it is known; absent where nobody ever said how it was found.</summary>
    public PlacementView? Placement { get; init; }

    /// <summary>All its measured places, oldest first; absent where nobody ever said how one was found.</summary>
    public IReadOnlyList<PlacementView>? Placements { get; init; }
}

/// <summary>State of a circuit.</summary>
public sealed record CircuitView : ThingView
{
    /// <summary>What people call it.</summary>
    public string? Name { get; init; }

    /// <summary>How it is driven.</summary>
    public DriveKind? Drive { get; init; }

    /// <summary>The phase reached.</summary>
    public required CircuitPhase Phase { get; init; }

    /// <summary>When each phase that was reached was reached.</summary>
    public required IReadOnlyDictionary<CircuitPhase, DateTimeOffset> PhaseReachedAt { get; init; }

    /// <summary>What is missing for the next phase, in plain words.</summary>
    public required IReadOnlyList<string> MissingForNextPhase { get; init; }

    /// <summary>
    /// The verdict on the latest visit's readings: that on all of them together, and of a single one its own. It is never better
    /// than doubtful while one reading by itself is outside.
    /// </summary>
    public required CircuitVerdict Verdict { get; init; }

    /// <summary>Why, in plain words.</summary>
    public required string VerdictWhy { get; init; }

    /// <summary>
    /// The judgement of the latest visit's readings together; none where fewer than two places or quantities were read, or an
    /// earlier version of the models judged one of them.
    /// </summary>
    public TogetherView? Together { get; init; }

    /// <summary>What it should read.</summary>
    public required IReadOnlyList<ExpectedReading> Expected { get; init; }

    /// <summary>Why it cannot be said what it should read, where it cannot.</summary>
    public string? ExpectedWhyNot { get; init; }

    /// <summary>The latest readings, newest first.</summary>
    public required IReadOnlyList<ReadingView> LastReadings { get; init; }

    /// <summary>Faults that would explain the latest readings, likeliest first.</summary>
    public required IReadOnlyList<ExplanationView> Explanations { get; init; }

    /// <summary>
    /// What the readings cannot tell apart, in plain words, one text for each group of two or more explanations.
    /// </summary>
    public required IReadOnlyList<string> CannotTellApart { get; init; }

    /// <summary>What to measure next, the one that tells most for its effort first; none where nothing is to be found out.</summary>
    public required IReadOnlyList<NextReadingView> NextReadings { get; init; }

    /// <summary>Why measuring can stop, where it can and something is wrong.</summary>
    public string? EnoughMeasured { get; init; }

    /// <summary>
    /// What readings over months show, one entry for each place and quantity that was read on six visits or more; none
    /// where there is none.
    /// </summary>
    public IReadOnlyList<DriftView>? Drift { get; init; }

    /// <summary>How much more the driver could feed.</summary>
    public HeadroomView? Headroom { get; init; }

    /// <summary>Newest tests.</summary>
    public required IReadOnlyList<TestView> Tests { get; init; }

    /// <summary>Where the driver is.</summary>
    public GeoPoint? DriverPosition { get; init; }

    /// <summary>The measured place of its driver that counts; absent where nobody ever said how it was found.</summary>
    public PlacementView? DriverPlacement { get; init; }

    /// <summary>All measured places of its driver, oldest first; absent where nobody ever said how one was found.</summary>
    public IReadOnlyList<PlacementView>? DriverPlacements { get; init; }

    /// <summary>Where the driver is, in words.</summary>
    public string? DriverAt { get; init; }

    /// <summary>Its fittings in order.</summary>
    public required IReadOnlyList<FittingView> Fittings { get; init; }

    /// <summary>Its cables.</summary>
    public required IReadOnlyList<string> CableIds { get; init; }

    /// <summary>Its boxes.</summary>
    public required IReadOnlyList<string> BoxIds { get; init; }

    /// <summary>Number of spare cores on its cables.</summary>
    public required int SpareCores { get; init; }

    /// <summary>Faults reported and not mended.</summary>
    public required IReadOnlyList<string> OpenFaults { get; init; }

    /// <summary>Rules that find something on the ducts, cables and boxes it leans on; <c>/v1/alerts?circuit=</c> tells what.</summary>
    public required IReadOnlyList<string> OpenPoints { get; init; }
}

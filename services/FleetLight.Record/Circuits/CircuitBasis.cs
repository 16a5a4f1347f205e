using System.Text.Json.Serialization;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Electrics;

namespace FleetLight.Record.Circuits;

/// <summary>
/// All that follows for a circuit from every fact but its readings. It is kept, so that a reading is judged without
/// folding anything again. Readings come often, the rest seldom.
/// </summary>
public sealed record CircuitBasis
{
    private IReadOnlyList<ExpectedReading>? expectedList;

    /// <summary>The circuit.</summary>
    public required string Id { get; init; }

    /// <summary>The site.</summary>
    public string? SiteId { get; init; }

    /// <summary>What people call it.</summary>
    public string? Name { get; init; }

    /// <summary>How it is driven.</summary>
    public DriveKind? Drive { get; init; }

    /// <summary>
    /// The phase reached as far as facts other than readings say; never <see cref="CircuitPhase.Proven"/>.
    /// </summary>
    public required CircuitPhase Phase { get; init; }

    /// <summary>When each of those phases was reached.</summary>
    public required IReadOnlyDictionary<CircuitPhase, DateTimeOffset> PhaseReachedAt { get; init; }

    /// <summary>What is missing for the next phase, as far as it does not hang on readings.</summary>
    public required IReadOnlyList<string> Missing { get; init; }

    /// <summary>
    /// Since when a reading within is all that is left for the circuit to be proven; none where more than that is
    /// missing.
    /// </summary>
    public DateTimeOffset? ProvableAt { get; init; }

    /// <summary>The version of the models of the electrics that worked out what it should read.</summary>
    public int ModelVersion { get; init; }

    /// <summary>
    /// What its readings are judged on, in short: the same for the same circuit as built, the same repair and the same
    /// settings, whatever the version of the models.
    /// </summary>
    public string Ground { get; init; } = "";

    /// <summary>How it is judged, where its organisation set that; the stated defaults where it did not.</summary>
    public Judging? Judging { get; init; }

    /// <summary>The circuit as built; none without a design.</summary>
    public CircuitModel? Model { get; init; }

    /// <summary>
    /// What it should read, without the budgets of the uncertainties; none where that cannot be said.
    /// </summary>
    public ExpectedReadings? Reads { get; init; }

    /// <summary>Why it cannot be said, where it cannot.</summary>
    public CannotExpect? Refusal { get; init; }

    /// <summary>How much more the driver could feed.</summary>
    public HeadroomView? Headroom { get; init; }

    /// <summary>Its fittings in order.</summary>
    public required IReadOnlyList<FittingView> Fittings { get; init; }

    /// <summary>Newest tests.</summary>
    public required IReadOnlyList<TestView> Tests { get; init; }

    /// <summary>Its cables.</summary>
    public required IReadOnlyList<string> CableIds { get; init; }

    /// <summary>Its boxes.</summary>
    public required IReadOnlyList<string> BoxIds { get; init; }

    /// <summary>Ids of boxes that mean another of its boxes, with the id that stays.</summary>
    public IReadOnlyDictionary<string, string>? BoxAliases { get; init; }

    /// <summary>Where a meter can be put on it, and what it takes to get there; none without a design.</summary>
    public IReadOnlyList<MeasuringPlace>? Places { get; init; }

    /// <summary>When it was last seen which fittings are lit, since the last repair and change of design.</summary>
    public DateTimeOffset? LookedAt { get; init; }

    /// <summary>The fittings of the circuit that were seen dark then.</summary>
    public IReadOnlyList<string>? Dark { get; init; }

    /// <summary>
    /// The newest insulation resistance of the output side since the last repair and change of design, MΩ.
    /// </summary>
    public double? InsulationMegohms { get; init; }

    /// <summary>Its tests of insulation, oldest first, where there are enough of them to look for drift.</summary>
    public IReadOnlyList<InsulationEntry>? Insulation { get; init; }

    /// <summary>Spare cores on its cables.</summary>
    public required int SpareCores { get; init; }

    /// <summary>Faults reported and not mended.</summary>
    public required IReadOnlyList<string> OpenFaults { get; init; }

    /// <summary>When it was last repaired: readings from before do not count for its verdict.</summary>
    public DateTimeOffset? LastRepairAt { get; init; }

    /// <summary>The fact of the last repair, <c>source#id</c>.</summary>
    public string? LastRepair { get; init; }

    /// <summary>Work that may have changed what it reads, oldest first; nothing where there was none.</summary>
    public IReadOnlyList<WorkDone>? Works { get; init; }

    /// <summary>
    /// When its design was last changed electrically: readings from before do not count for its verdict.
    /// </summary>
    public DateTimeOffset? DesignChangedAt { get; init; }

    /// <summary>Where the driver is.</summary>
    public GeoPoint? DriverPosition { get; init; }

    /// <summary>The measured place of its driver that counts; absent where nobody ever said how it was found.</summary>
    public PlacementView? DriverPlacement { get; init; }

    /// <summary>All measured places of its driver, oldest first; absent where nobody ever said how one was found.</summary>
    public IReadOnlyList<PlacementView>? DriverPlacements { get; init; }

    /// <summary>Where the driver is, in words.</summary>
    public string? DriverAt { get; init; }

    /// <summary>The fact that says of what driver the circuit is fed, <c>source#id</c>.</summary>
    public string? DriverEvidence { get; init; }

    /// <summary>What the state waits for.</summary>
    public required IReadOnlyList<string> WaitingFor { get; init; }

    /// <summary>Facts that contradict one another.</summary>
    public required IReadOnlyList<string> Contradictions { get; init; }

    /// <summary>What the rules find on the circuit itself without its readings.</summary>
    public required IReadOnlyList<Finding> Findings { get; init; }

    /// <summary>Rules that find something on what it leans on, by id.</summary>
    public required IReadOnlyList<string> OpenPoints { get; init; }

    /// <summary>Its facts but the readings, newest last, at most 200.</summary>
    public required IReadOnlyList<FactLine> Facts { get; init; }

    /// <summary>What it should read, as shown.</summary>
    [JsonIgnore]
    public IReadOnlyList<ExpectedReading> Expected => expectedList ??= ExpectedList.Of(Reads);
}

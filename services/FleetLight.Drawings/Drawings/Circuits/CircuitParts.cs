using FleetLight.Contracts;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Views;

namespace FleetLight.PageParts.Drawings.Circuits;

/// <summary>What a circuit's drawing is made from: the circuit as built, and what is known and said of its parts.</summary>
public sealed record CircuitParts
{
    /// <summary>The id by which runs and readings call the place of the driver.</summary>
    public const string DriverPlace = "driver";

    /// <summary>The circuit.</summary>
    public required string Id { get; init; }

    /// <summary>What people call it.</summary>
    public string? Name { get; init; }

    /// <summary>The circuit as built; none without a design.</summary>
    public CircuitInput? Circuit { get; init; }

    /// <summary>Its cables; those that are not known are left out.</summary>
    public IReadOnlyList<CableView> Cables { get; init; } = [];

    /// <summary>Its boxes; those that are not known are left out.</summary>
    public IReadOnlyList<BoxView> Boxes { get; init; } = [];

    /// <summary>Which cable makes which run, by the run's id; runs whose cable is not named are left out.</summary>
    public IReadOnlyDictionary<string, string> CableOfRun { get; init; } = new Dictionary<string, string>();

    /// <summary>What should be read where.</summary>
    public IReadOnlyList<ExpectedReading> Expected { get; init; } = [];

    /// <summary>What was read, newest first.</summary>
    public IReadOnlyList<ReadingView> Readings { get; init; } = [];

    /// <summary>Where the trouble may be, likeliest first.</summary>
    public IReadOnlyList<Suspect> Suspects { get; init; } = [];

    /// <summary>Where to measure next: ids of places.</summary>
    public IReadOnlyList<string> NextPlaces { get; init; } = [];

    /// <summary>The parts of a recorded circuit.</summary>
    /// <param name="model">The circuit as built.</param>
    /// <param name="state">Its state; without it nothing is marked as suspect, expected or next.</param>
    /// <param name="cables">Its cables.</param>
    /// <param name="boxes">Its boxes.</param>
    /// <param name="cableOfRun">Which cable makes which run.</param>
    public static CircuitParts Of(
        CircuitModelView model, CircuitView? state, IReadOnlyList<CableView>? cables = null, IReadOnlyList<BoxView>? boxes = null,
        IReadOnlyDictionary<string, string>? cableOfRun = null)
    {
        ArgumentNullException.ThrowIfNull(model);
        return new CircuitParts
        {
            Id = model.Id,
            Name = model.Name,
            Circuit = model.Circuit,
            Cables = cables ?? [],
            Boxes = boxes ?? [],
            CableOfRun = cableOfRun ?? new Dictionary<string, string>(),
            Expected = state?.Expected ?? [],
            Readings = state?.LastReadings ?? [],
            Suspects = state is null ? [] : Suspect.Of(state.Explanations),
            NextPlaces = state?.NextReadings is [var first, ..] && first.Places.Count == 1 ? first.Places : [],
        };
    }

    /// <summary>The place that a reading names.</summary>
    public static string PlaceOf(ReadingPlaceKind kind, string? placeId) =>
        kind == ReadingPlaceKind.Driver ? DriverPlace : placeId ?? DriverPlace;
}

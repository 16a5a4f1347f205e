using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Electrics;

namespace FleetLight.Record.Circuits;

/// <summary>Where a meter can be put on a circuit as built.</summary>
internal static class MeasuringPlaces
{
    /// <summary>The driver, the fittings, and the boxes.</summary>
    public static IReadOnlyList<MeasuringPlace> Of(CircuitModel model, List<string> boxIds, ById<BoxView> boxes) =>
    [
        new(CircuitModel.DriverNode, PlaceAccess.AtHand),
        .. model.Fittings.Select(fitting => new MeasuringPlace(fitting.Id, PlaceAccess.Fitting)),
        .. boxIds.Select(id => new MeasuringPlace(id, Access(boxes.Find(id)))),
    ];

    // A box in the ground lies under soil or gravel; how deep is not recorded, so it counts as dug out. Of one that no fact
    // describes the same is taken.
    private static PlaceAccess Access(BoxView? box) => box?.Lie is BoxLie.OnWall or BoxLie.OnSpike
        ? PlaceAccess.OpenToReach
        : PlaceAccess.NeedsDigging;
}

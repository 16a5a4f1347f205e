using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Files;

namespace FleetLight.Field.OpenPoints;

/// <summary>Open points that ask for the same deed on parts of the same thing: two hundred fittings to be fixed are one entry of the list. Pure.</summary>
/// <param name="Points">The points, in their order; one where it stands alone.</param>
public sealed record AlikePoints(IReadOnlyList<OpenPoint> Points)
{
    // So few are quicker read one by one than folded out.
    private const int Fewest = 4;

    /// <summary>The point that stands for all.</summary>
    public OpenPoint Lead => Points[0];

    /// <summary>Whether there are several.</summary>
    public bool AreMany => Points.Count > 1;

    /// <summary>The facts that take all of them off at once; none where one of them has still to be filled in.</summary>
    public IReadOnlyList<IFact> All => AreMany && Points.All(point => point.TicksOff is [var only] && LeavePoints.FactOf(only) is not null)
        ? [.. Points.Select(point => LeavePoints.FactOf(point.TicksOff[0])!)]
        : [];

    /// <summary>Gathers points, each where the first of its like stands.</summary>
    public static IReadOnlyList<AlikePoints> Of(IEnumerable<OpenPoint> points) =>
    [
        .. points.GroupBy(point => point.Part is null ? point.Key : $"{point.Thing.Kind}:{point.Thing.Id}|{point.Phase}|{point.Severity}|{point.Remedy}|{Deed(point)}")
            .SelectMany(alike => alike.Count() < Fewest ? alike.Select(point => new AlikePoints([point])) : [InOrder(alike)]),
    ];

    private static AlikePoints InOrder(IEnumerable<OpenPoint> alike) => new([.. alike.OrderBy(point => point.Missing, NaturalOrder.Comparer)]);

    private static string Deed(OpenPoint point) => string.Join(';', point.TicksOff.Select(tick => $"{tick.Type}:{tick.Says}:{tick.Asks.Count}"));
}

using FleetLight.Contracts;
using FleetLight.Contracts.Views;

namespace FleetLight.PageParts.History;

/// <summary>A place and quantity of a circuit: what it should read there, and the newest reading there.</summary>
/// <param name="Place">Where.</param>
/// <param name="PlaceId">The box or fitting.</param>
/// <param name="Quantity">What.</param>
/// <param name="Expected">What it should read; none where that cannot be said.</param>
/// <param name="Read">The newest reading; none where nothing was read there.</param>
public sealed record ExpectedRow(ReadingPlaceKind Place, string? PlaceId, ReadingQuantity Quantity, ExpectedValue? Expected, ReadingView? Read)
{
    /// <summary>The rows of a circuit: what is expected, in its order, then readings of which nothing is expected.</summary>
    public static IReadOnlyList<ExpectedRow> Of(CircuitView view)
    {
        ArgumentNullException.ThrowIfNull(view);
        var read = new Dictionary<(ReadingPlaceKind, string?, ReadingQuantity), ReadingView>();
        foreach (var reading in view.LastReadings.OrderByDescending(reading => reading.HappenedAt))
            read.TryAdd((reading.Place, reading.PlaceId, reading.Quantity), reading);
        var rows = view.Expected.Select(each => new ExpectedRow(
            each.Place, each.PlaceId, each.Quantity, each.Expected, read.GetValueOrDefault((each.Place, each.PlaceId, each.Quantity)))).ToList();
        var known = rows.Select(row => (row.Place, row.PlaceId, row.Quantity)).ToHashSet();
        rows.AddRange(read.Values.Where(each => !known.Contains((each.Place, each.PlaceId, each.Quantity)))
            .Select(each => new ExpectedRow(each.Place, each.PlaceId, each.Quantity, each.Expected, each)));
        return rows;
    }
}

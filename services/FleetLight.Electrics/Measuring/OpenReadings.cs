using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>A reading that could be taken.</summary>
/// <param name="Asked">Where and what; several for a look at all fittings.</param>
/// <param name="Minutes">What it takes, minutes.</param>
/// <param name="Access">What it takes to get there.</param>
/// <param name="TimesTaken">How often it has been taken.</param>
internal readonly record struct OpenReading(
    ImmutableArray<(string Place, MeasuredQuantity Quantity)> Asked,
    double Minutes,
    PlaceAccess Access,
    int TimesTaken);

/// <summary>Lists what could be measured on a circuit as built.</summary>
internal static class OpenReadings
{
    private static readonly MeasuredQuantity[] Everywhere = [MeasuredQuantity.VoltsDc, MeasuredQuantity.Milliamps];

    private static readonly MeasuredQuantity[] AtDriver =
        [.. Everywhere, MeasuredQuantity.LoopOhms, MeasuredQuantity.MegohmsInsulation];

    /// <summary>All of them, in the order of the places.</summary>
    public static ImmutableArray<OpenReading> Of(
        CircuitModel? model, IReadOnlyList<MeasuredReading?>? readings, IReadOnlyList<MeasuringPlace?>? places,
        MeasuringEffort effort)
    {
        if (model is null) return [];
        var taken = (readings ?? []).Where(reading => reading?.Place is not null)
            .CountBy(reading => (reading!.Place, reading.Quantity)).ToDictionary();
        var fittings = model.Fittings.OrEmpty().Where(f => f is not null).Select(f => f.Id).ToList();
        var open = ImmutableArray.CreateBuilder<OpenReading>();
        var listed = new HashSet<string>(StringComparer.Ordinal);
        foreach (var place in (places ?? Usual(model, fittings)).Take(NextMeasurement.MostPlaces))
        {
            if (string.IsNullOrEmpty(place?.Id) || !listed.Add(place.Id)) continue;
            foreach (var quantity in place.Id == CircuitModel.DriverNode ? AtDriver : Everywhere)
            {
                open.Add(new OpenReading(
                    [(place.Id, quantity)], effort.MinutesFor(place, quantity, fittings.Count), place.Access,
                    taken.GetValueOrDefault((place.Id, quantity))));
            }
        }

        ImmutableArray<(string, MeasuredQuantity)> look =
            [.. fittings.Select(id => (id, MeasuredQuantity.FittingLit)).Where(asked => !taken.ContainsKey(asked))];
        if (look.Length > 0) open.Add(new OpenReading(look, effort.MinutesToLook(look.Length), PlaceAccess.AtHand, 0));
        return open.ToImmutable();
    }

    private static IEnumerable<MeasuringPlace?> Usual(CircuitModel model, List<string> fittings)
    {
        yield return new MeasuringPlace(CircuitModel.DriverNode, PlaceAccess.AtHand);
        foreach (var id in fittings) yield return new MeasuringPlace(id, PlaceAccess.Fitting);
        foreach (var run in model.Runs.OrEmpty())
        {
            if (run is null) continue;
            // Ends that are the driver or a fitting are there already and are passed over as seen.
            yield return new MeasuringPlace(run.From, PlaceAccess.OpenToReach);
            yield return new MeasuringPlace(run.To, PlaceAccess.OpenToReach);
        }
    }
}

using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.OpenData.Cql;
using FleetLight.Record.Circuits;
using FleetLight.Record.Rules.Boxes;
using NetTopologySuite.Geometries;

namespace FleetLight.OpenData.Features;

/// <summary>Makes features of states. The values stand in the order of the properties in <see cref="FeatureKinds"/>.</summary>
public static class FeatureMaker
{
    /// <summary>A duct.</summary>
    public static FeatureRow Of(DuctView duct) => Make(FeatureKinds.Ducts, duct.Id, Shapes.Of(duct.Route),
    [
        duct.Id, duct.SiteId, LabelOf(duct.Labels), Word(duct.Service), Word(duct.Colour), Word(duct.Wall), duct.BoreMillimetres, duct.LengthMetres,
        duct.DepthMillimetres, duct.BendsDegrees, duct.NearEndAt, duct.FarEndAt, Joined(duct.PluggedEnds.Select(FeatureKinds.Word)), duct.StringInside,
        Joined(duct.CableIds), duct.FillPercent, duct.ThickestMoreMillimetres,
    ]);

    /// <summary>A cable.</summary>
    /// <param name="cable">The cable.</param>
    /// <param name="ducts">The ducts in which it lies, as far as they are known, by id.</param>
    public static FeatureRow Of(CableView cable, IReadOnlyDictionary<string, DuctView> ducts)
    {
        var routes = cable.DuctIds.Distinct(StringComparer.Ordinal).Select(id => Shapes.Of(ducts.GetValueOrDefault(id)?.Route)).OfType<LineString>().ToArray();
        return Make(FeatureKinds.Cables, cable.Id, Shapes.Of(routes),
        [
            cable.Id, cable.SiteId, LabelOf(cable.Labels), cable.LengthMetres, cable.AreaSquareMillimetres, Word(cable.ConductorClass),
            cable.OutsideDiameterMillimetres, Joined(cable.DuctIds), routes.Length, Joined(cable.Cores.Select(core => core.CircuitId).OfType<string>()),
            cable.Cores.Count, cable.SpareCores, cable.PulledAt,
        ]);
    }

    /// <summary>A box.</summary>
    public static FeatureRow Of(BoxView box) => Make(FeatureKinds.Boxes, box.Id, Shapes.Of(box.Position),
    [
        box.Id, box.SiteId, Shapes.HeightOf(box.Position), box.Label, Word(box.Lie), Word(box.Entry), box.StrainRelief, box.GelFilled, box.Breathing,
        // Closed, and no joint was made in it since.
        box.SealedAt is not null && box.Findings.All(finding => finding.Rule != BoxNotClosed.Rule.Id),
        box.SealedAt, box.Joints.Count, Joined(box.Joints.Select(joint => joint.CircuitId)),
    ]);

    /// <summary>The driver of a circuit.</summary>
    public static FeatureRow DriverOf(CircuitLine circuit, CircuitBasis? basis) => Make(FeatureKinds.Drivers, circuit.Id, Shapes.Of(basis?.DriverPosition),
    [
        circuit.Id, circuit.SiteId, Shapes.HeightOf(basis?.DriverPosition), circuit.Name, basis?.DriverAt, Word(circuit.Drive),
        FeatureKinds.Word(circuit.Phase), FeatureKinds.Word(circuit.Verdict),
    ]);

    /// <summary>The fittings of a circuit, in their order.</summary>
    public static IEnumerable<FeatureRow> FittingsOf(CircuitLine circuit, CircuitBasis? basis) => (basis?.Fittings ?? [])
        .Select((fitting, place) => (fitting, place)).DistinctBy(each => each.fitting.FittingId)
        .Select(each => Make(FeatureKinds.Fittings, FittingId(circuit.Id, each.fitting.FittingId), Shapes.Of(each.fitting.Position),
        [
            each.fitting.FittingId, circuit.SiteId, circuit.Id, Shapes.HeightOf(each.fitting.Position), each.place + 1, each.fitting.RatedWatts,
            each.fitting.DesignedWatts, each.fitting.Fixed, FeatureKinds.Word(circuit.Phase), FeatureKinds.Word(circuit.Verdict),
        ]));

    /// <summary>A circuit.</summary>
    public static FeatureRow Of(CircuitLine circuit, CircuitBasis? basis)
    {
        Point[] points = [.. (basis?.Fittings ?? []).Select(fitting => fitting.Position).Prepend(basis?.DriverPosition).Select(Shapes.Of).OfType<Point>()];
        return Make(FeatureKinds.Circuits, circuit.Id, Shapes.Of(points),
        [
            circuit.Id, circuit.SiteId, circuit.Name, Word(circuit.Drive), FeatureKinds.Word(circuit.Phase), FeatureKinds.Word(circuit.Verdict),
            basis?.Fittings.Count, points.Length, circuit.ExpectedVolts?.Value, circuit.LastVolts, circuit.LastReadAt, Joined(circuit.Rules),
            Joined(basis?.CableIds ?? []), Joined(basis?.BoxIds ?? []),
        ]);
    }

    /// <summary>An alert.</summary>
    /// <param name="alert">The alert.</param>
    /// <param name="shape">Where what it is about is; none where that is not known.</param>
    /// <param name="of">Whose position that is.</param>
    public static FeatureRow Of(AlertView alert, Point? shape, string? of) => Make(FeatureKinds.Alerts, alert.Id, shape,
    [
        alert.Finding.Rule, FeatureKinds.Word(alert.Finding.Severity), FeatureKinds.Word(alert.Standing), alert.SiteId.Length > 0 ? alert.SiteId : null,
        FeatureKinds.Word(alert.Finding.Subject.Kind), alert.Finding.Subject.Id, Joined(alert.Finding.CircuitIds), alert.Finding.Reason,
        alert.Finding.Remedy, alert.RaisedAt, alert.TimesRaised, shape is null ? null : of,
    ]);

    /// <summary>A reading.</summary>
    /// <param name="id">Its id: that of its event.</param>
    /// <param name="reading">The reading.</param>
    /// <param name="shape">Where it was taken; none where that is not known.</param>
    public static FeatureRow Of(string id, ReadingEntry reading, Point? shape) => Make(FeatureKinds.Readings, id, shape,
    [
        reading.CircuitId, reading.SiteId, FeatureKinds.Word(reading.Place), reading.PlaceId, FeatureKinds.Word(reading.Quantity),
        reading.Quantity == ReadingQuantity.VoltsDc ? reading.Value : null, reading.Quantity == ReadingQuantity.Milliamps ? reading.Value : null,
        reading.Quantity == ReadingQuantity.LoopOhms ? reading.Value : null, reading.HappenedAt, reading.RecordedAt, reading.Source, reading.MeterName,
    ]);

    /// <summary>The id of a fitting among all fittings. No id that was minted holds the sign between its parts.</summary>
    public static string FittingId(string circuitId, string fittingId) => $"{circuitId}~{fittingId}";

    private static FeatureRow Make(FeatureKind kind, string id, Geometry? shape, object?[] values)
    {
        if (values.Length != kind.Properties.Count) throw new InvalidOperationException($"{kind.Id} has {kind.Properties.Count} properties, not {values.Length}.");
        return new FeatureRow(id, shape, [.. values.Select(Plain)]);
    }

    private static object? Plain(object? value) => value switch
    {
        int whole => (long)whole,
        DateTimeOffset time => CqlTimes.Whole(time),
        _ => value,
    };

    private static string? Word<T>(T? value) where T : struct, Enum => value is { } known ? FeatureKinds.Word(known) : null;

    private static string? Joined(IEnumerable<string> ids)
    {
        var joined = string.Join(' ', ids.Distinct(StringComparer.Ordinal));
        return joined.Length == 0 ? null : joined;
    }

    // The near end's label speaks for it, or whatever there is.
    private static string? LabelOf(IReadOnlyDictionary<RunEnd, string>? labels) =>
        labels is null || labels.Count == 0 ? null : labels.TryGetValue(RunEnd.Near, out var near) ? near : labels.Values.First();
}

using System.Text.Json.Serialization;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;
using FleetLight.Record.Rules.Boxes;

namespace FleetLight.Service.Sites;

/// <summary>A GeoJSON feature (RFC 7946).</summary>
/// <param name="Type">Always <c>Feature</c>.</param>
/// <param name="Id"><c>kind:id</c>.</param>
/// <param name="Geometry">Line or point; null where nobody recorded it.</param>
/// <param name="Properties">What is known, with the units in the names.</param>
public sealed record Feature(
    string Type, string Id, [property: JsonIgnore(Condition = JsonIgnoreCondition.Never)] object? Geometry, object Properties);

/// <summary>A GeoJSON feature collection (RFC 7946).</summary>
/// <param name="Type">Always <c>FeatureCollection</c>.</param>
/// <param name="Features">The features.</param>
public sealed record FeatureSet(string Type, IReadOnlyList<Feature> Features);

/// <summary>Writes what is in the ground as GeoJSON.</summary>
public static class AsBuilt
{
    /// <summary>The collection of a site.</summary>
    public static FeatureSet Of(SiteThings things)
    {
        var features = new List<Feature>();
        if (things.Site is { } site)
        {
            features.Add(Make("site", site.Id, site.Position, new { kind = "site", site.Id, site.Name, site.Place, site.OpenedAt }));
            features.AddRange(PlacedFeatures.Of(site));
        }

        features.AddRange(things.Ducts.Where(duct => duct.SameAs is null).Select(Duct));
        features.AddRange(things.Cables.Where(cable => cable.SameAs is null).Select(Cable));
        features.AddRange(PlacedFeatures.Of(things.Ducts, things.Cables));
        features.AddRange(things.Boxes.Where(box => box.SameAs is null).Select(Box));
        foreach (var circuit in things.Circuits) features.AddRange(OfCircuit(circuit, things.Bases.GetValueOrDefault(circuit.Id)));
        return new FeatureSet("FeatureCollection", features);
    }

    private static Feature Duct(DuctView duct) => Make("duct", duct.Id, duct.Route, new
    {
        kind = "duct",
        duct.Id,
        duct.SiteId,
        Label = LabelOf(duct.Labels),
        duct.Service,
        duct.Colour,
        duct.Wall,
        duct.BoreMillimetres,
        duct.LengthMetres,
        duct.DepthMillimetres,
        duct.BendsDegrees,
        duct.Route?.AccuracyMetres,
        duct.Route?.Method,
        duct.NearEndAt,
        duct.FarEndAt,
        duct.Labels,
        duct.PluggedEnds,
        duct.StringInside,
        duct.CableIds,
        duct.FillPercent,
        duct.ThickestMoreMillimetres,
    });

    private static Feature Cable(CableView cable) => Make("cable", cable.Id, null, new
    {
        kind = "cable",
        cable.Id,
        cable.SiteId,
        Label = LabelOf(cable.Labels),
        cable.LengthMetres,
        cable.AreaSquareMillimetres,
        cable.ConductorClass,
        cable.OutsideDiameterMillimetres,
        cable.DuctIds,
        cable.Cores,
        cable.SpareCores,
        cable.Labels,
        cable.PulledAt,
    });

    private static Feature Box(BoxView box) => Make("box", box.Id, box.Position, new
    {
        kind = "box",
        box.Id,
        box.SiteId,
        box.Label,
        box.Lie,
        box.Entry,
        box.StrainRelief,
        box.GelFilled,
        box.Breathing,
        box.SealedAt,
        box.Placement?.AccuracyMetres,
        box.Placement?.Method,
        errorEllipse = box.Placement?.Ellipse,
        box.Placement,
        // Closed, and no joint was made in it since.
        isSealed = box.SealedAt is not null && box.Findings.All(finding => finding.Rule != BoxNotClosed.Rule.Id),
        box.Joints,
    });

    private static IEnumerable<Feature> OfCircuit(CircuitLine circuit, CircuitBasis? basis)
    {
        yield return Make("driver", circuit.Id, basis?.DriverPosition, new
        {
            kind = "driver",
            id = circuit.Id,
            Label = basis?.DriverAt,
            basis?.DriverPlacement?.AccuracyMetres,
            basis?.DriverPlacement?.Method,
            errorEllipse = basis?.DriverPlacement?.Ellipse,
            placement = basis?.DriverPlacement,
            circuitId = circuit.Id,
            circuit.SiteId,
            circuit.Name,
            circuit.Drive,
            circuit.Phase,
            circuit.Verdict,
        });
        foreach (var fitting in basis?.Fittings ?? [])
        {
            yield return Make("fitting", fitting.FittingId, fitting.Position, new
            {
                kind = "fitting",
                id = fitting.FittingId,
                circuitId = circuit.Id,
                circuit.SiteId,
                circuit.Phase,
                circuit.Verdict,
                fitting.RatedWatts,
                isFixed = fitting.Fixed,
                fitting.Placement?.AccuracyMetres,
                fitting.Placement?.Method,
                errorEllipse = fitting.Placement?.Ellipse,
                fitting.Placement,
            });
        }
    }

    // The near end's label speaks for it, or whatever there is.
    private static string? LabelOf(IReadOnlyDictionary<RunEnd, string>? labels) =>
        labels is null || labels.Count == 0 ? null : labels.TryGetValue(RunEnd.Near, out var near) ? near : labels.Values.First();

    /// <summary>A feature. How well its position is known stands in its properties: a geometry holds nothing but coordinates.</summary>
    internal static Feature Make(string kind, string id, object? geometry, object properties) => new(
        "Feature",
        $"{kind}:{id}",
        geometry switch
        {
            GeoPoint point => point with { AccuracyMetres = null, Method = null },
            GeoLine line => line with { AccuracyMetres = null, Method = null },
            _ => null,
        },
        properties);
}

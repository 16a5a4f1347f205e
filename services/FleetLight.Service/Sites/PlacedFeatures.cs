using System.Globalization;
using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Service.Hosting;

namespace FleetLight.Service.Sites;

/// <summary>Features of what was measured besides things: reference points, and points of ducts and cables.</summary>
internal static class PlacedFeatures
{
    /// <summary>The reference points of a site.</summary>
    public static IEnumerable<Feature> Of(SiteView site) => (site.ReferencePoints ?? []).Select(point => AsBuilt.Make(
        "reference-point",
        point.PointId,
        point.Placement.Position,
        new
        {
            kind = "reference-point",
            id = point.PointId,
            siteId = site.Id,
            point.Name,
            point.Description,
            point.Placement.AccuracyMetres,
            point.Placement.Method,
            errorEllipse = point.Placement.Ellipse,
            point.Placement,
        }));

    /// <summary>The measured points of ducts and cables.</summary>
    public static IEnumerable<Feature> Of(IEnumerable<DuctView> ducts, IEnumerable<CableView> cables) =>
    [
        .. ducts.Where(duct => duct.SameAs is null).SelectMany(duct => Of(ThingKind.Duct, duct, duct.Points)),
        .. cables.Where(cable => cable.SameAs is null).SelectMany(cable => Of(ThingKind.Cable, cable, cable.Points)),
    ];

    private static IEnumerable<Feature> Of(ThingKind of, ThingView thing, IReadOnlyList<RunPointView>? points) => (points ?? []).Select(point =>
    {
        var kind = of == ThingKind.Duct ? "duct-point" : "cable-point";
        var id = $"{thing.Id}:{(point.End is { } end ? Query.Word(end) : (point.ChainageMetres ?? 0).ToString(CultureInfo.InvariantCulture))}";
        return AsBuilt.Make(kind, id, point.Placement.Position, new
        {
            kind,
            id,
            ductId = of == ThingKind.Duct ? thing.Id : null,
            cableId = of == ThingKind.Cable ? thing.Id : null,
            thing.SiteId,
            point.End,
            point.ChainageMetres,
            point.Placement.AccuracyMetres,
            point.Placement.Method,
            errorEllipse = point.Placement.Ellipse,
            point.Placement,
        });
    });
}

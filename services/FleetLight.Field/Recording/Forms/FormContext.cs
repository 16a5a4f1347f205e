using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Field.Sites;
using FleetLight.Record.Files;
using FleetLight.Record.Works;

namespace FleetLight.Field.Recording.Forms;

/// <summary>What a form knows while it is filled in.</summary>
/// <param name="Site">The site.</param>
/// <param name="NewId">Mints an id that begins with those letters.</param>
/// <param name="Last">The data of the last such fact that was recorded here.</param>
/// <param name="About">The thing from whose page the form was opened.</param>
public sealed record FormContext(ISiteState Site, Func<string, string> NewId, JsonObject? Last, ThingRef? About)
{
    /// <summary>The site's id.</summary>
    public string SiteId => Site.SiteId!;

    /// <summary>The folded facts.</summary>
    public MemoryWorks Works => Site.Works;

    /// <summary>The id of the thing that the form was opened about, where it is of that kind.</summary>
    public string? AboutId(ThingKind kind) => About?.Kind == kind ? About.Id : null;

    /// <summary>The ducts to choose from.</summary>
    public IReadOnlyList<Choice> Ducts() => [.. Site.Ducts.Select(duct => new Choice(duct.Id, ThingNames.Of(duct)))];

    /// <summary>The cables to choose from.</summary>
    public IReadOnlyList<Choice> Cables() => [.. Site.Cables.Select(cable => new Choice(cable.Id, ThingNames.Of(cable)))];

    /// <summary>The boxes to choose from.</summary>
    public IReadOnlyList<Choice> Boxes() => [.. Site.Boxes.Select(box => new Choice(box.Id, ThingNames.Of(box)))];

    /// <summary>The reference points to choose from.</summary>
    public IReadOnlyList<Choice> ReferencePoints() =>
        [.. (Works.SiteOf(SiteId)?.ReferencePoints ?? []).OrderBy(point => point.Name, NaturalOrder.Comparer).Select(point => new Choice(point.PointId, point.Name))];

    /// <summary>The circuits to choose from.</summary>
    public IReadOnlyList<Choice> Circuits() => [.. Site.Designs.Select(design => new Choice(design.CircuitId, design.Name))];

    /// <summary>The design of a circuit.</summary>
    public CircuitDesigned? Design(string? circuitId) => Site.Designs.FirstOrDefault(design => design.CircuitId == circuitId);

    /// <summary>The fittings of a circuit to choose from.</summary>
    public IReadOnlyList<Choice> Fittings(string? circuitId) =>
        [.. (Design(circuitId)?.Fittings ?? []).Select((fitting, index) => new Choice(fitting.FittingId, ThingNames.Of(fitting, index)))];

    /// <summary>The duct that was laid last.</summary>
    public DuctView? NewestDuct() => Newest(Site.Ducts);

    /// <summary>The cable that was pulled last.</summary>
    public CableView? NewestCable() => Newest(Site.Cables);

    /// <summary>The circuit to begin with: the one asked about, the last one used, or the only one.</summary>
    public string? CircuitToBegin() => AboutId(ThingKind.Circuit)
        ?? (Last?["circuitId"]?.GetValue<string>() is { } last && Design(last) is not null ? last : null)
        ?? (Site.Designs.Count == 1 ? Site.Designs[0].CircuitId : null);

    /// <summary>What the last such fact said of a member.</summary>
    public JsonNode? FromLast(string name) => Last?[name]?.DeepClone();

    private static T? Newest<T>(IEnumerable<T> views)
        where T : ThingView => views.Where(view => view.Facts.Count > 0).MaxBy(view => view.Facts[^1].HappenedAt);
}

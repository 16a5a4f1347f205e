using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Serialization;

namespace FleetLight.Service.OpenData;

/// <summary>A link (RFC 8288).</summary>
/// <param name="Href">The address.</param>
/// <param name="Rel">What it leads to, seen from here.</param>
/// <param name="Type">Media type of what is there.</param>
/// <param name="Title">What people call it.</param>
/// <param name="Templated">Whether the address has parts in braces to be filled in.</param>
public sealed record OgcLink(string Href, string Rel, string? Type = null, string? Title = null, bool? Templated = null);

/// <summary>The page from which all open data are found.</summary>
/// <param name="Title">Its title.</param>
/// <param name="Description">What is there.</param>
/// <param name="Links">Where.</param>
public sealed record OgcLanding(string Title, string Description, IReadOnlyList<OgcLink> Links);

/// <summary>What the open data hold to.</summary>
/// <param name="ConformsTo">Classes of standards, by their addresses.</param>
public sealed record OgcConformance(IReadOnlyList<string> ConformsTo);

/// <summary>Where a collection reaches.</summary>
/// <param name="Bbox">One rectangle: west, south, east, north in degrees of WGS 84.</param>
/// <param name="Crs">Its coordinate reference system.</param>
public sealed record OgcSpace(IReadOnlyList<IReadOnlyList<double>> Bbox, string Crs);

/// <summary>When a collection begins and ends.</summary>
/// <param name="Interval">One interval: first and last instant (RFC 3339).</param>
/// <param name="Trs">Its calendar.</param>
public sealed record OgcTime(IReadOnlyList<IReadOnlyList<string>> Interval, string Trs);

/// <summary>Where and when a collection reaches.</summary>
/// <param name="Spatial">Where; absent where no position is known.</param>
/// <param name="Temporal">When; absent where it has no times.</param>
public sealed record OgcReach(OgcSpace? Spatial, OgcTime? Temporal);

/// <summary>A collection.</summary>
/// <param name="Id">Its id.</param>
/// <param name="Title">What people call it.</param>
/// <param name="Description">What is in it, and where its shapes come from.</param>
/// <param name="Links">Where to go from here.</param>
/// <param name="Extent">Where and when it reaches.</param>
/// <param name="ItemType">Always <c>feature</c>.</param>
/// <param name="Crs">Coordinate reference systems in which its shapes can be had.</param>
/// <param name="StorageCrs">The one in which they are kept.</param>
public sealed record OgcCollectionLine(
    string Id, string Title, string Description, IReadOnlyList<OgcLink> Links, OgcReach? Extent, string ItemType, IReadOnlyList<string> Crs, string StorageCrs);

/// <summary>All collections that the key may read.</summary>
/// <param name="Links">Where to go from here.</param>
/// <param name="Collections">The collections.</param>
public sealed record OgcCollections(IReadOnlyList<OgcLink> Links, IReadOnlyList<OgcCollectionLine> Collections);

/// <summary>A GeoJSON feature (RFC 7946).</summary>
/// <param name="Type">Always <c>Feature</c>.</param>
/// <param name="Id">Its id within the collection.</param>
/// <param name="Geometry">Its shape; null where none was recorded.</param>
/// <param name="Properties">What is known, as the collection's schema says.</param>
/// <param name="Links">Where to go from here; on a feature by itself only.</param>
public sealed record OgcFeature(
    string Type, string Id, [property: JsonIgnore(Condition = JsonIgnoreCondition.Never)] JsonElement? Geometry, JsonElement Properties,
    IReadOnlyList<OgcLink>? Links = null);

/// <summary>A page of GeoJSON features (RFC 7946).</summary>
/// <param name="Type">Always <c>FeatureCollection</c>.</param>
/// <param name="Features">The features.</param>
/// <param name="Links">Where to go from here; <c>next</c> where there are more.</param>
/// <param name="TimeStamp">When it was answered.</param>
/// <param name="NumberMatched">Number of features altogether; absent where that was not counted.</param>
/// <param name="NumberReturned">Number of features here.</param>
public sealed record OgcFeatures(
    string Type, IReadOnlyList<OgcFeature> Features, IReadOnlyList<OgcLink> Links, DateTimeOffset TimeStamp, long? NumberMatched, int NumberReturned);

/// <summary>What a set of tiles is made of.</summary>
/// <param name="Title">Its title.</param>
/// <param name="DataType">Always <c>vector</c>.</param>
/// <param name="Crs">The coordinate reference system of the tiles.</param>
/// <param name="TileMatrixSetURI">How the tiles are cut.</param>
/// <param name="Links">The tiles, and where to go from here.</param>
public sealed record OgcTileSet(string Title, string DataType, string Crs, string TileMatrixSetURI, IReadOnlyList<OgcLink> Links);

/// <summary>The sets of tiles of a collection.</summary>
/// <param name="Tilesets">The sets.</param>
/// <param name="Links">Where to go from here.</param>
public sealed record OgcTileSets(IReadOnlyList<OgcTileSet> Tilesets, IReadOnlyList<OgcLink> Links);

/// <summary>A JSON Schema (2020-12).</summary>
/// <param name="Schema">The schema.</param>
public sealed record OgcSchema(JsonObject Schema);

using System.Text.Json;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;

namespace FleetLight.Service.Sites;

/// <summary>What a list says of a site: kept beside its state, which is many times as long.</summary>
public static class SiteLines
{
    /// <summary>The line as it is kept.</summary>
    public static string Written(SiteView site) => JsonSerializer.Serialize(new { site.Name, site.Place, site.Position }, WireJson.Lenient);

    /// <summary>The position of a line.</summary>
    public static GeoPoint? Position(string? json) => json is null ? null : JsonSerializer.Deserialize<GeoPoint>(json, WireJson.Lenient);
}

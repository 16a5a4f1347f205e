using System.Text.Json;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Wire;

namespace FleetLight.Field.Sites;

/// <summary>The fact that a photo was taken: sent before the bytes, which follow under their digest. Pure.</summary>
internal static class PhotoFact
{
    /// <summary>Its type.</summary>
    public const string Type = "fleetlight.photo.taken.v1";

    /// <summary>Its data.</summary>
    public static string DataOf(string siteId, PhotoOf photo)
    {
        var data = new JsonObject
        {
            ["siteId"] = siteId,
            ["kind"] = JsonNamingPolicy.KebabCaseLower.ConvertName(photo.Thing.Kind.ToString()),
            ["thingId"] = photo.Thing.Id,
            ["sha256"] = photo.Photo.Sha256,
            ["mediaType"] = photo.Photo.MediaType,
            ["sizeBytes"] = photo.Photo.SizeBytes,
        };
        if (photo.Caption is { Length: > 0 } caption) data["caption"] = caption;
        return data.ToJsonString(WireJson.Lenient);
    }
}

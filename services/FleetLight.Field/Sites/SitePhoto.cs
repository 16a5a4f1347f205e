using System.Text.Json;
using FleetLight.Contracts.Views;
using FleetLight.Field.Keeping;
using FleetLight.Record.Files;

namespace FleetLight.Field.Sites;

/// <summary>A photo of a thing of the site.</summary>
/// <param name="Fact">The fact that tells of it, <c>source#id</c>.</param>
/// <param name="Thing">The thing that it shows.</param>
/// <param name="Sha256">Digest of its bytes, by which they are found.</param>
/// <param name="Caption">What is to be seen.</param>
/// <param name="HappenedAt">When it was taken.</param>
public sealed record SitePhoto(string Fact, ThingRef Thing, string Sha256, string? Caption, DateTimeOffset HappenedAt)
{
    /// <summary>Photos among facts of <c>GET /v1/facts</c>.</summary>
    /// <param name="json">A JSON array.</param>
    public static IEnumerable<SitePhoto> Listed(string json)
    {
        using var list = JsonDocument.Parse(json);
        foreach (var fact in list.RootElement.EnumerateArray().Where(fact => fact.GetProperty("type").GetString() == PhotoFact.Type))
        {
            if (Of(fact.GetProperty("fact").GetString()!, fact.GetProperty("data"), fact.GetProperty("happenedAt").GetDateTimeOffset()) is { } photo)
                yield return photo;
        }
    }

    /// <summary>The photo that a fact recorded here tells of; none where it tells of something else.</summary>
    public static SitePhoto? Of(KeptFact kept)
    {
        ArgumentNullException.ThrowIfNull(kept);
        if (kept.Type != PhotoFact.Type) return null;
        using var sent = JsonDocument.Parse(kept.Text);
        return Of(FactKey.Of(kept.Source, kept.Id), sent.RootElement.GetProperty("data"), kept.Time);
    }

    private static SitePhoto? Of(string fact, JsonElement data, DateTimeOffset at)
    {
        var caption = data.TryGetProperty("caption", out var said) ? said.GetString() : null;
        return ThingAddress.Read($"{data.GetProperty("kind").GetString()}/{Uri.EscapeDataString(data.GetProperty("thingId").GetString()!)}") is { } thing
            ? new SitePhoto(fact, thing, data.GetProperty("sha256").GetString()!, caption, at)
            : null;
    }
}

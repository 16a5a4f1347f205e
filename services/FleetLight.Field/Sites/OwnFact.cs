using System.Text.Json;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using FleetLight.Field.Keeping;

namespace FleetLight.Field.Sites;

/// <summary>Reads facts for folding: those recorded here, and those of the service's list. Pure.</summary>
internal static class OwnFact
{
    /// <summary>A fact that was recorded here, with this phone's own clock; none where this version does not know its type.</summary>
    public static RecordedFact? Of(KeptFact kept)
    {
        using var sent = JsonDocument.Parse(kept.Text);
        if (Read(sent.RootElement.GetProperty("data"), kept.Type) is not { } data) return null;
        return new RecordedFact(
            new FactOrigin
            {
                Source = kept.Source,
                Id = kept.Id,
                RunningNumber = kept.Number,
                DeviceTime = kept.Time,
                HappenedAt = kept.Time,
                RecordedAt = kept.Time,
                Digest = "",
            },
            data);
    }

    /// <summary>Facts of <c>GET /v1/facts</c>; those whose type this version does not know are left out.</summary>
    /// <param name="json">A JSON array.</param>
    public static IEnumerable<RecordedFact> Listed(string json)
    {
        using var list = JsonDocument.Parse(json);
        foreach (var fact in list.RootElement.EnumerateArray())
        {
            if (Read(fact.GetProperty("data"), fact.GetProperty("type").GetString()!) is not { } data) continue;
            // The members of a fact's origin have the same names in the list.
            yield return new RecordedFact(fact.Deserialize<FactOrigin>(WireJson.Lenient)!, data);
        }
    }

    private static IFact? Read(JsonElement data, string type)
    {
        try
        {
            return FactTypes.Find(type) is { } record ? data.Deserialize(record, WireJson.Lenient) as IFact : null;
        }
        catch (JsonException)
        {
            // Written by a newer version, in words that this one does not know.
            return null;
        }
    }
}

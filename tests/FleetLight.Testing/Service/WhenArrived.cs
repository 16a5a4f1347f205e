using System.Text.Json.Nodes;

namespace FleetLight.Testing.Service;

/// <summary>When something arrived, which answers of two services differ in though they know the same.</summary>
public static class WhenArrived
{
    /// <summary>Takes it out of an answer.</summary>
    public static void Forget(JsonNode? node)
    {
        if (node is JsonObject members)
        {
            members.Remove("recordedAt");
            members.Remove("lastSeen");
            foreach ((_, JsonNode? member) in members) Forget(member);
        }
        else if (node is JsonArray items)
        {
            foreach (JsonNode? item in items) Forget(item);
        }
    }
}

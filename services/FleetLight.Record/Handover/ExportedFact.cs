using System.Text.Json;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;

namespace FleetLight.Record.Handover;

/// <summary>A fact as a line of an export has it, for checks of packs without the service.</summary>
public static class ExportedFact
{
    /// <summary>The fact; none where the line is none, or of a type that is not known here.</summary>
    /// <param name="line">The line, without its line break.</param>
    public static RecordedFact? Read(ReadOnlySpan<byte> line)
    {
        try
        {
            var root = JsonNode.Parse(line)!.AsObject();
            var (told, of) = (root["event"]!.AsObject(), root["recorded"]!.DeepClone().AsObject());
            if (FactTypes.Find((string)told["type"]!) is not { } type) return null;
            // The line has of the envelope in its event what is kept in one piece with the rest.
            foreach (var (kept, attribute) in ((string, string)[])[("source", "source"), ("id", "id"), ("runningNumber", "runningnumber"), ("deviceTime", "time")])
                of[kept] = told[attribute]!.DeepClone();
            return new RecordedFact(of.Deserialize<FactOrigin>(WireJson.Lenient)!, (IFact)told["data"]!.Deserialize(type, WireJson.Lenient)!);
        }
        catch (Exception unread) when (unread is JsonException or InvalidOperationException or NullReferenceException or FormatException)
        {
            return null;
        }
    }
}

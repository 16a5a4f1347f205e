using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;

namespace FleetLight.Testing.Service;

/// <summary>An event as a device sends it.</summary>
/// <param name="Id">Its id.</param>
/// <param name="RunningNumber">Its running number.</param>
/// <param name="Text">The event as JSON.</param>
public sealed record SentEvent(string Id, int RunningNumber, string Text)
{
    /// <summary>The event of a fact.</summary>
    public static SentEvent Of(string source, string id, int runningNumber, DateTimeOffset at, IFact fact)
    {
        JsonObject envelope = new()
        {
            ["specversion"] = "1.0",
            ["id"] = id,
            ["source"] = source,
            ["type"] = FactTypes.NameOf(fact.GetType()),
            ["time"] = at.ToString("O", CultureInfo.InvariantCulture),
            [Envelope.RunningNumber] = runningNumber,
            ["data"] = JsonSerializer.SerializeToNode(fact, fact.GetType(), WireJson.Strict),
        };
        return new SentEvent(id, runningNumber, envelope.ToJsonString(WireJson.Strict));
    }

    /// <summary>The event with its JSON changed; id and running number are told as they were.</summary>
    public SentEvent Change(Action<JsonObject> change)
    {
        JsonObject envelope = JsonNode.Parse(Text)!.AsObject();
        change(envelope);
        return this with { Text = envelope.ToJsonString(WireJson.Strict) };
    }

    /// <summary>The event with its data changed.</summary>
    public SentEvent ChangeData(Action<JsonObject> change) => Change(envelope => change(envelope["data"]!.AsObject()));

    /// <summary>The event with a piece of its text replaced, for what no JSON writer would write.</summary>
    public SentEvent Replace(string piece, string by) => Text.Contains(piece, StringComparison.Ordinal)
        ? this with { Text = Text.Replace(piece, by, StringComparison.Ordinal) }
        : throw new ArgumentException($"The event does not hold {piece}: {Text}", nameof(piece));

    /// <summary>Events as the text of a batch.</summary>
    public static string Batch(IEnumerable<SentEvent> events) => $"[{string.Join(",", events.Select(each => each.Text))}]";
}

using System.Text.Json;
using FleetLight.Contracts.Wire;

namespace FleetLight.FieldAgent.Outbox;

/// <summary>Reads what writers hand over: one fact, an array of facts, or one fact a line.</summary>
internal static class FactReader
{
    /// <summary>The facts, or what is wrong with the text.</summary>
    public static (IReadOnlyList<NewFact> Facts, Problem? Problem) Read(byte[] text)
    {
        var facts = new List<NewFact>();
        try
        {
            var span = text.AsSpan();
            if (span.StartsWith("\uFEFF"u8)) span = span[3..];
            var reader = new Utf8JsonReader(span, new JsonReaderOptions { AllowMultipleValues = true, MaxDepth = 32 });
            while (reader.Read())
            {
                if (reader.TokenType == JsonTokenType.StartArray) facts.AddRange(JsonSerializer.Deserialize<NewFact[]>(ref reader, WireJson.Strict)!);
                else facts.Add(JsonSerializer.Deserialize<NewFact>(ref reader, WireJson.Strict)!);
            }
        }
        catch (JsonException bad)
        {
            return ([], Problems.Unreadable(Say(bad)));
        }

        if (facts.Contains(null!)) return ([], Problems.Unreadable("One of the facts is null."));
        return facts.Count == 0 ? ([], Problems.Unreadable("There is no fact in it.")) : (facts, null);
    }

    /// <summary>What is wrong with JSON, without the names of .NET types.</summary>
    public static string Say(JsonException bad)
    {
        var place = bad.Path is null or "$" ? "" : $" at {bad.Path[1..].TrimStart('.')}";
        var missing = bad.Message.IndexOf("missing required", StringComparison.Ordinal);
        if (missing >= 0)
            return $"These members are missing{place}: {bad.Message[(bad.Message.IndexOf(':', missing) + 1)..].Split('.')[0].Replace("'", "", StringComparison.Ordinal).Trim()}.";
        if (bad.Message.Contains("could not be mapped", StringComparison.Ordinal)) return $"There is no such member{place}.";
        return bad.LineNumber is { } line && bad.Path is null or "$"
            ? $"Line {bad.LineNumber + 1}, byte {bad.BytePositionInLine + 1} cannot be read as a fact."
            : $"The value{place} is not of the kind that is asked for.";
    }
}

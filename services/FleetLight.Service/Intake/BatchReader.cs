using System.Globalization;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using CloudNative.CloudEvents;
using CloudNative.CloudEvents.SystemTextJson;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Checks;

namespace FleetLight.Service.Intake;

/// <summary>An event of a batch after it was read: a good fact, or a problem.</summary>
/// <param name="Index">Its place in the batch.</param>
/// <param name="Text">The event as it was sent.</param>
public sealed record ReadEvent(int Index, ReadOnlyMemory<byte> Text)
{
    /// <summary>Id in the envelope, where it could be read.</summary>
    public string? Id { get; init; }

    /// <summary>Source in the envelope, where it could be read.</summary>
    public string? Source { get; init; }

    /// <summary>Running number, where it could be read.</summary>
    public int? RunningNumber { get; init; }

    /// <summary>The device's time.</summary>
    public DateTimeOffset Time { get; init; }

    /// <summary>What happened, where the event is good.</summary>
    public IFact? Fact { get; init; }

    /// <summary>What is wrong with it.</summary>
    public Problem? Problem { get; init; }
}

/// <summary>Reads a body into events, each on its own: a bad one never sinks the others.</summary>
public static class BatchReader
{
    private static readonly CloudEventAttribute RunningNumberAttribute =
        CloudEventAttribute.CreateExtension(Envelope.RunningNumber, CloudEventAttributeType.Integer);

    private static readonly CloudEventAttribute[] Extensions = [RunningNumberAttribute];
    private static readonly JsonEventFormatter Formatter = new();

    private static readonly JsonDocumentOptions Reading = new() { MaxDepth = 32, AllowDuplicateProperties = false };

    /// <summary>The events of a body, or the problem of the body as a whole.</summary>
    public static (IReadOnlyList<ReadEvent> Events, Problem? Problem) Read(ReadOnlyMemory<byte> body, bool batch, string source)
    {
        if (!batch) return ([ReadOne(0, body, source)], null);
        if (JsonSlices.TrySplit(body, Envelope.MostEvents, out var slices) is { } problem) return ([], problem);
        var events = new ReadEvent[slices.Count];
        for (var index = 0; index < events.Length; index++) events[index] = ReadOne(index, slices[index], source);
        return (events, null);
    }

    private static ReadEvent ReadOne(int index, ReadOnlyMemory<byte> text, string source)
    {
        var read = new ReadEvent(index, text);
        if (text.Length > Envelope.MostDataBytes)
        {
            return read with
            {
                Problem = Bad(ProblemTypes.OutOfRange, "An event is too large", "data",
                    $"The event has {text.Length} bytes; at most {Envelope.MostDataBytes} are taken.", "Record it as smaller facts."),
            };
        }

        JsonDocument document;
        try
        {
            document = JsonDocument.Parse(text, Reading);
        }
        catch (JsonException bad)
        {
            return read with
            {
                Problem = Unreadable(bad.LineNumber is { } line
                    ? $"Line {line + 1}, byte {bad.BytePositionInLine + 1} of the event cannot be read as JSON (RFC 8259)."
                    : "A member stands in the event twice."),
            };
        }
        catch (InvalidOperationException)
        {
            return read with { Problem = NotText() };
        }

        using (document)
        {
            var root = document.RootElement;
            if (root.ValueKind != JsonValueKind.Object)
                return read with { Problem = Invalid(null, "An event is a JSON object.") };
            try
            {
                read = read with { Id = TextOf(root, "id"), Source = TextOf(root, "source"), RunningNumber = NumberOf(root) };
                return Decode(read, root, source);
            }
            catch (Exception bad) when (bad is InvalidOperationException or JsonException { InnerException: InvalidOperationException })
            {
                // The parser lets such text stand until somebody reads it, or writes it.
                return read with { Problem = NotText() };
            }
        }
    }

    private static ReadEvent Decode(ReadEvent read, JsonElement root, string source)
    {
        if (root.TryGetProperty("specversion", out var version) is false || version.ValueKind != JsonValueKind.String)
            return read with { Problem = Invalid("specversion", "The event has no specversion.") };
        if (read.RunningNumber is not >= 1)
            return read with { Problem = Invalid(Envelope.RunningNumber, "The event has no running number of 1 or more.") };
        CloudEvent envelope;
        try
        {
            envelope = Formatter.ConvertFromJsonElement(WithoutLeapSecond(root), Extensions);
        }
        catch (ArgumentException bad)
        {
            return read with { Problem = Invalid(FieldIn(bad.Message), WithoutParameter(bad.Message)) };
        }
        catch (FormatException)
        {
            return read with { Problem = Invalid(null, "An attribute holds a number that is no whole number within ±2,147,483,647.") };
        }

        if (envelope.Id is { Length: > 128 }) return read with { Problem = Invalid("id", "An id has at most 128 characters.") };
        if (envelope.Id!.Any(char.IsControl)) return read with { Problem = Invalid("id", "An id holds no control characters.") };
        if (!string.Equals(read.Source, source, StringComparison.Ordinal))
        {
            return read with
            {
                Problem = Bad(ProblemTypes.SourceNotYours, "The source is not the key's own", "source",
                    $"The key speaks for '{source}'.", $"Send the event with the source '{source}', or with the key of its own device."),
            };
        }

        if (envelope.Time is not { } time)
            return read with { Problem = Invalid("time", "The event has no time.") };
        if (envelope.DataContentType is { } type && !type.StartsWith("application/json", StringComparison.OrdinalIgnoreCase))
            return read with { Problem = Invalid("datacontenttype", "The data of a fact is JSON: application/json.") };
        return DecodeData(read with { Time = time }, root, envelope.Type!);
    }

    private static JsonElement WithoutLeapSecond(JsonElement root)
    {
        if (TextOf(root, "time") is not { } text || !LeapSecond.TryRead(text, out var time)) return root;
        var envelope = JsonObject.Create(root)!;
        envelope["time"] = time.ToString("O", CultureInfo.InvariantCulture);
        return JsonSerializer.SerializeToElement(envelope);
    }

    private static ReadEvent DecodeData(ReadEvent read, JsonElement root, string type)
    {
        if (FactTypes.Find(type) is not { } record) return read with { Problem = UnknownType(type) };
        if (!root.TryGetProperty("data", out var data) || data.ValueKind != JsonValueKind.Object)
            return read with { Problem = DataInvalid("data", "The event has no data object.", "Send the fact's data as a JSON object.") };
        IFact fact;
        try
        {
            fact = (IFact)data.Deserialize(record, WireJson.Strict)!;
        }
        catch (JsonException bad)
        {
            var fault = JsonFault.Of(bad, FactCheck.Root);
            return read with { Problem = DataInvalid(fault.Field, fault.Detail, fault.Remedy) };
        }

        var found = FactCheck.Check(fact);
        if (found.Count == 0) return read with { Fact = fact };
        var first = found[0];
        var rest = found.Count > 1 ? $" And {found.Count - 1} more: {string.Join("; ", found.Skip(1).Take(10).Select(each => $"{each.Field}: {each.Detail}"))}" : "";
        return read with
        {
            Problem = first.Kind == FactProblemKind.OutOfRange
                ? Bad(ProblemTypes.OutOfRange, "A value is out of range", first.Field, first.Detail + rest, first.Remedy)
                : DataInvalid(first.Field, first.Detail + rest, first.Remedy),
        };
    }

    private static Problem UnknownType(string type)
    {
        var stem = type.LastIndexOf(".v", StringComparison.Ordinal) is var at and > 0 ? type[..(at + 2)] : null;
        var known = stem is null ? null : FactTypes.All.Select(pair => pair.Key).FirstOrDefault(name => name.StartsWith(stem, StringComparison.Ordinal));
        return known is null
            ? Bad(ProblemTypes.TypeUnknown, "The type of fact is not known", "type", $"No fact has the type '{Short(type)}'.",
                "Use a type that the contract lists. The fact is kept aside and can be mended.")
            : Bad(ProblemTypes.VersionUnknown, "The version of the fact is not known", "type", $"'{Short(type)}' is not known here; '{known}' is.",
                $"Send '{known}', or update the service. The fact is kept aside and can be mended.");
    }

    private static Problem Invalid(string? field, string detail) =>
        Bad(ProblemTypes.EnvelopeInvalid, "The envelope is not complete", field, detail,
            $"Send a CloudEvents 1.0 event with id, source, type, time and {Envelope.RunningNumber}.");

    private static Problem Unreadable(string detail) => Bad(ProblemTypes.BodyUnreadable, "The event is not readable JSON", null, detail,
        "Mend the event's JSON. Not-a-number and infinity have no JSON form.");

    private static Problem NotText() => Unreadable("The event holds bytes that are not UTF-8, or half of a surrogate pair.");

    private static Problem DataInvalid(string? field, string detail, string remedy) =>
        Bad(ProblemTypes.DataInvalid, "The data is not as the type asks", field, detail, remedy);

    private static Problem Bad(string type, string title, string? field, string detail, string remedy) =>
        new()
        {
            Type = type,
            Title = title,
            Status = StatusCodes.Status422UnprocessableEntity,
            Field = Keepable(field),
            Detail = Keepable(detail),
            Remedy = remedy,
        };

    // What is refused is kept, names and values of the sender's with it, and the store cannot hold the character zero.
    private static string? Keepable(string? text) => text?.Replace('\0', '\uFFFD');

    private static string? TextOf(JsonElement root, string name) =>
        root.TryGetProperty(name, out var value) && value.ValueKind == JsonValueKind.String ? Keepable(value.GetString()) : null;

    private static int? NumberOf(JsonElement root) =>
        root.TryGetProperty(Envelope.RunningNumber, out var value) && value.ValueKind == JsonValueKind.Number && value.TryGetInt32(out var number)
            ? number
            : null;

    // The library puts the attribute at fault in quotes, or names it as missing; it names others in passing.
    private static string? FieldIn(string message)
    {
        foreach (var name in (ReadOnlySpan<string>)["specversion", "datacontenttype", "dataschema", "subject", "source", "type", "time", "id"])
        {
            if (message.Contains($"'{name}'", StringComparison.Ordinal) || message.Contains($"attributes: {name}", StringComparison.Ordinal)) return name;
        }

        return message.Contains("datacontenttype", StringComparison.Ordinal) ? "datacontenttype"
            : message.Contains("spec version", StringComparison.Ordinal) ? "specversion"
            : null;
    }

    private static string WithoutParameter(string message) =>
        (message.IndexOf(" (Parameter", StringComparison.Ordinal) is var at and > 0 ? message[..at] : message).TrimEnd('.') + ".";

    private static string Short(string text) => text.Length <= 80 ? text : string.Concat(text.AsSpan(0, 80), "…");

    /// <summary>The text of an event as it was sent.</summary>
    public static string TextOf(ReadEvent read) => Encoding.UTF8.GetString(read.Text.Span);
}

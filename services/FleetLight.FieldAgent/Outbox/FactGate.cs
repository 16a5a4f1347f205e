using System.Text.Json;
using FleetLight.Client.Devices;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Checks;

namespace FleetLight.FieldAgent.Outbox;

/// <summary>Checks a fact as the service will, so that whoever records it hears at once what is wrong. Pure.</summary>
internal static class FactGate
{
    private const int Unprocessable = 422;

    /// <summary>What is wrong with a fact; nothing where it is sound, or where its writer wants it as it is.</summary>
    public static Problem? Check(NewFact fact)
    {
        if (fact.Reference is { Length: 0 or > 100 }) return Wrong("reference", "A reference has 1 to 100 characters.", "Use a shorter one.");
        if (fact.Type.Length is 0 or > 80) return Wrong("type", "A type has 1 to 80 characters.", "Use a type that the contract lists.");
        if (fact.Data.ValueKind != JsonValueKind.Object) return Wrong("data", "The data of a fact is a JSON object.", "Send what the type asks.");
        if (fact.AsItIs == true) return null;
        if (FactTypes.Find(fact.Type) is not { } record)
        {
            return Wrong("type", $"No fact has the type '{fact.Type}'.", "Use a type that the contract lists.") with { Type = ProblemTypes.TypeUnknown };
        }

        IFact data;
        try
        {
            data = (IFact)fact.Data.Deserialize(record, WireJson.Strict)!;
        }
        catch (JsonException bad)
        {
            return OfJson(bad);
        }

        if (FactCheck.Check(data) is not [var first, ..] all) return null;
        var rest = all.Count > 1 ? $" And {all.Count - 1} more: {string.Join("; ", all.Skip(1).Take(10).Select(each => $"{each.Field}: {each.Detail}"))}" : "";
        return Wrong(first.Field, first.Detail + rest, first.Remedy) with
        {
            Type = first.Kind == FactProblemKind.OutOfRange ? ProblemTypes.OutOfRange : ProblemTypes.DataInvalid,
        };
    }

    /// <summary>What is wrong with an event that is made already; nothing where it can be sent.</summary>
    public static Problem? CheckSize(byte[] text) => text.Length <= Envelope.MostDataBytes
        ? null
        : Wrong("data", $"The event has {text.Length} bytes; at most {Envelope.MostDataBytes} are taken.", "Record it as smaller facts.") with
        {
            Type = ProblemTypes.OutOfRange,
        };

    /// <summary>The event of a fact.</summary>
    public static byte[] EventOf(NewFact fact, string source, string id, int number, DateTimeOffset now) =>
        new FactEvent(source, id, number, fact.Time ?? now, fact.Type, fact.Data).ToJson();

    private static Problem OfJson(JsonException bad)
    {
        var fault = JsonFault.Of(bad, FactCheck.Root);
        return Wrong(fault.Field, fault.Detail, fault.Remedy);
    }

    private static Problem Wrong(string field, string detail, string remedy) => new()
    {
        Type = ProblemTypes.DataInvalid,
        Title = "The fact is not sound",
        Status = Unprocessable,
        Field = field,
        Detail = detail,
        Remedy = remedy,
    };
}

using System.CommandLine;
using System.Text;
using System.Text.Json;
using FleetLight.Contracts.Wire;
using FleetLight.FieldAgent.Outbox;

namespace FleetLight.FieldAgent.Commands;

/// <summary><c>record</c> and <c>mend</c>.</summary>
internal static class FactCommands
{
    private static readonly Option<string?> File = new("--file") { Description = "File with facts: one, an array, or one a line; - reads them from the input." };
    private static readonly Option<string?> Type = new("--type") { Description = "Type of the fact, for instance fleetlight.reading.taken.v1." };
    private static readonly Option<string?> Data = new("--data") { Description = "Data of the fact as JSON." };
    private static readonly Option<DateTimeOffset?> Time = new("--time") { Description = "When it happened (RFC 3339); now where absent." };
    private static readonly Option<string?> Reference = new("--reference") { Description = "Your own name for it: the same one again records nothing new." };
    private static readonly Option<bool> AsItIs = new("--as-it-is") { Description = "Record it although it is wrong; the office mends it." };

    /// <summary>Makes them.</summary>
    public static IEnumerable<Command> Make() => [Record(), Mend()];

    private static Command Record()
    {
        var record = new Command("record", "Record facts. They are on disk when this ends; all of them or none.") { File, Type, Data, Time, Reference, AsItIs };
        record.Does(async (parsed, parts, output, cancel) =>
        {
            if (parts.Identities.Find() is not { } identity) return output.Fail(ExitCodes.NotEnrolled, Problems.NotEnrolled());
            var (facts, problem) = await ReadAsync(parsed, cancel);
            if (problem is not null) return output.Fail(ExitCodes.NotUnderstood, problem);
            var result = parts.Desk.Record(identity.Source, facts);
            return Told(output, result, facts.Count);
        });
        return record;
    }

    private static Command Mend()
    {
        var number = new Argument<int>("number") { Description = "Number of the refused fact." };
        var mend = new Command("mend", "Record what a refused fact should have said. Its time stays, unless given.") { number, Data, File, Type, Time, AsItIs };
        mend.Does(async (parsed, parts, output, cancel) =>
        {
            if (parts.Identities.Find() is not { } identity) return output.Fail(ExitCodes.NotEnrolled, Problems.NotEnrolled());
            var text = parsed.GetValue(Data) is { } given ? Encoding.UTF8.GetBytes(given) : await TextAsync(parsed.GetValue(File), cancel);
            if (text is null) return output.Fail(ExitCodes.NotUnderstood, "Give the data with --data or --file.");
            if (Parse(text) is not { } data) return output.Fail(ExitCodes.NotUnderstood, "The data is not readable JSON.");
            var result = parts.Desk.Mend(identity.Source, parsed.GetValue(number), new MendedFact
            {
                Data = data,
                Type = parsed.GetValue(Type),
                Time = parsed.GetValue(Time),
                AsItIs = parsed.GetValue(AsItIs),
            });
            return Told(output, result, 1);
        });
        return mend;
    }

    private static int Told(Out output, RecordResult result, int count) => result.Problem is { } wrong
        ? output.Fail(ExitCodes.NotDone, wrong, count > 1 ? $"Fact {result.Index + 1} of {count}: " : "")
        : output.Say(new { facts = result.Written }, _ =>
            result.Written.Select(fact => $"{fact.Number}  {fact.Id}{(fact.Known ? "  (recorded before)" : "")}"));

    private static async Task<(IReadOnlyList<NewFact> Facts, Problem? Problem)> ReadAsync(ParseResult parsed, CancellationToken cancel)
    {
        var asItIs = parsed.GetValue(AsItIs) ? true : (bool?)null;
        if (parsed.GetValue(Type) is { } type)
        {
            if (parsed.GetValue(File) is not null) return ([], Problems.Unreadable("Give --file, or --type and --data."));
            if (parsed.GetValue(Data) is not { } text || Parse(Encoding.UTF8.GetBytes(text)) is not { } data)
                return ([], Problems.Unreadable("Give the data as JSON with --data."));
            return ([new NewFact { Type = type, Data = data, Time = parsed.GetValue(Time), Reference = parsed.GetValue(Reference), AsItIs = asItIs }], null);
        }

        if (await TextAsync(parsed.GetValue(File), cancel) is not { } file) return ([], Problems.Unreadable("Give --file, or --type and --data."));
        var (facts, problem) = FactReader.Read(file);
        return ([.. facts.Select(fact => fact with { AsItIs = asItIs ?? fact.AsItIs })], problem);
    }

    private static async Task<byte[]?> TextAsync(string? file, CancellationToken cancel)
    {
        if (file is null) return null;
        if (file != "-") return await System.IO.File.ReadAllBytesAsync(file, cancel);
        using var all = new MemoryStream();
        await using var input = Console.OpenStandardInput();
        await input.CopyToAsync(all, cancel);
        return all.ToArray();
    }

    private static JsonElement? Parse(byte[] text)
    {
        try
        {
            return JsonSerializer.Deserialize<JsonElement>(text, WireJson.Strict);
        }
        catch (JsonException)
        {
            return null;
        }
    }
}

using System.Text.Json;
using FleetLight.Contracts.Wire;

namespace FleetLight.FieldAgent.Outbox;

/// <summary>What became of what a writer handed over: all of it is on disk, or none of it.</summary>
/// <param name="Written">The facts, in their order; empty where there is a problem.</param>
/// <param name="Problem">What is wrong.</param>
/// <param name="Index">Number of the fact at fault, from 0.</param>
public sealed record RecordResult(IReadOnlyList<WrittenFact> Written, Problem? Problem = null, int Index = 0);

/// <summary>Records facts: each gets its id and the next running number in the transaction that puts it on the disk.</summary>
internal sealed class FactDesk(OutboxFile outbox, TimeProvider clock)
{
    private static readonly JsonSerializerOptions Json = WireJson.Lenient;

    /// <summary>Told after facts were recorded.</summary>
    public event Action? Recorded;

    /// <summary>Records facts for a device, all or none. When it answers they are on the disk.</summary>
    public RecordResult Record(string source, IReadOnlyList<NewFact> facts)
    {
        for (var index = 0; index < facts.Count; index++)
        {
            if (FactGate.Check(facts[index]) is { } problem) return new RecordResult([], problem, index);
        }

        RecordResult result;
        try
        {
            result = outbox.WriteFacts(
                "record", statements => new RecordResult([.. facts.Select((fact, index) => Add(statements, source, fact, index, null))]), Last);
        }
        catch (RefusedFact refused)
        {
            return new RecordResult([], refused.Problem, refused.Index);
        }

        Recorded?.Invoke();
        return result;
    }

    /// <summary>Records the mend of a refused fact: a new fact with the time of the old one, which is marked as mended.</summary>
    /// <param name="source">The device.</param>
    /// <param name="number">Number of the refused fact.</param>
    /// <param name="mend">What it should have said; its type and time are the old fact's unless given.</param>
    public RecordResult Mend(string source, int number, MendedFact mend)
    {
        RecordResult result;
        try
        {
            result = outbox.WriteFacts("mend", statements =>
            {
                if (FactShelf.Find(statements, number) is not { } old) throw new RefusedFact(NoSuch(number), 0);
                if (old.State != FactState.Refused || old.MendedBy is not null) throw new RefusedFact(NotOpen(old), 0);
                var fact = new NewFact { Type = mend.Type ?? old.Type, Data = mend.Data, Time = mend.Time ?? old.Time, AsItIs = mend.AsItIs };
                if (FactGate.Check(fact) is { } problem) throw new RefusedFact(problem, 0);
                var written = Add(statements, source, fact, 0, number);
                statements.Run("update fact set mended_by = $by where number = $number", ("$by", written.Number), ("$number", number));
                return new RecordResult([written]);
            }, Last);
        }
        catch (RefusedFact refused)
        {
            return new RecordResult([], refused.Problem);
        }

        Recorded?.Invoke();
        return result;
    }

    private static int Last(RecordResult result) => result.Written.Select(fact => fact.Number).DefaultIfEmpty(0).Max();

    private WrittenFact Add(Statements statements, string source, NewFact fact, int index, int? mends)
    {
        if (fact.Reference is { } reference && Known(statements, reference, fact) is { } known)
            return known.Same ? known.Fact : throw new RefusedFact(ReferenceReused(reference), index);
        var now = clock.GetLocalNow();
        var number = checked((int)long.Parse(
            statements.Text("select value from setting where name = 'last-number'")!, System.Globalization.CultureInfo.InvariantCulture) + 1);
        var id = Guid.CreateVersion7(now).ToString("N");
        var text = FactGate.EventOf(fact, source, id, number, now);
        if (FactGate.CheckSize(text) is { } tooLarge) throw new RefusedFact(tooLarge, index);
        statements.Run(
            """
            insert into fact (number, id, reference, type, site, time, written_at, text, digest, state, mends)
            values ($number, $id, $reference, $type, $site, $time, $now, $text, $digest, 'waiting', $mends)
            """,
            ("$number", number), ("$id", id), ("$reference", fact.Reference), ("$type", fact.Type), ("$site", SiteOf(fact.Data)),
            ("$time", (fact.Time ?? now).ToString("O")), ("$now", Moments.Text(now)), ("$text", text), ("$digest", OutboxFile.DigestOf(text)), ("$mends", mends));
        statements.Run(
            "update setting set value = $number where name = 'last-number'",
            ("$number", number.ToString(System.Globalization.CultureInfo.InvariantCulture)));
        return new WrittenFact(number, id, Known: false);
    }

    // The same fact or another one: its type and its data say so; a time that the agent filled in does not.
    private static (WrittenFact Fact, bool Same)? Known(Statements statements, string reference, NewFact fact)
    {
        var rows = statements.Rows(
            "select number, id, type, text from fact where reference = $reference",
            row => (Fact: new WrittenFact(row.GetInt32(0), row.GetString(1), Known: true), Type: row.GetString(2), Text: (byte[])row[3]),
            ("$reference", reference));
        if (rows is not [var row]) return null;
        using var sent = JsonDocument.Parse(row.Text);
        return (row.Fact, row.Type == fact.Type && JsonElement.DeepEquals(sent.RootElement.GetProperty("data"), fact.Data));
    }

    private static string? SiteOf(JsonElement data) =>
        data.TryGetProperty("siteId", out var site) && site.ValueKind == JsonValueKind.String ? site.GetString() : null;

    private static Problem ReferenceReused(string reference) => Problems.Conflict(
        $"The reference '{reference}' stands for another fact.", "Give a new fact a new reference.") with
    { Field = "reference" };

    private static Problem NoSuch(int number) => Problems.NotFound($"There is no fact with the number {number} here.");

    private static Problem NotOpen(KeptFact fact) => fact.MendedBy is { } by
        ? Problems.Conflict($"Fact {fact.Number} was mended already, by fact {by}.", $"Where that one was refused too, mend {by}.")
        : Problems.Conflict($"Fact {fact.Number} was not refused: it is {JsonNamingPolicy.KebabCaseLower.ConvertName(fact.State.ToString())}.",
            "To change what was recorded, record a correction (fleetlight.fact.corrected.v1).");

    private sealed class RefusedFact(Problem problem, int index) : Exception
    {
        public Problem Problem { get; } = problem;

        public int Index { get; } = index;
    }
}

/// <summary>What a refused fact should have said.</summary>
public sealed record MendedFact
{
    /// <summary>The data.</summary>
    public required JsonElement Data { get; init; }

    /// <summary>The type, where that was wrong.</summary>
    public string? Type { get; init; }

    /// <summary>When it happened, where that was wrong.</summary>
    public DateTimeOffset? Time { get; init; }

    /// <summary>Record it although it is wrong. Not where absent.</summary>
    public bool? AsItIs { get; init; }
}

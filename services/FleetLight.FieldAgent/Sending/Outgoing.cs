using System.Globalization;
using System.Text.Json;
using FleetLight.Contracts.Wire;
using FleetLight.FieldAgent.Outbox;

namespace FleetLight.FieldAgent.Sending;

/// <summary>What the sender takes from the outbox and writes back.</summary>
internal sealed class Outgoing(OutboxFile outbox, TimeProvider clock)
{
    private const int MostNamed = 5;

    /// <summary>The facts to send next, lowest numbers first: what the service misses comes before what it never saw.</summary>
    public IReadOnlyList<OutgoingFact> Next(int mostEvents)
    {
        var batch = new List<OutgoingFact>();
        var cut = new BatchCut(mostEvents, Envelope.MostBytes);
        outbox.Read(statements =>
        {
            statements.Each(
                "select number, id, text from fact where state = 'waiting' order by number limit $most",
                row =>
                {
                    var text = (byte[])row[2];
                    if (!cut.Takes(text.Length)) return false;
                    batch.Add(new OutgoingFact(row.GetInt32(0), row.GetString(1), text));
                    return true;
                }, ("$most", mostEvents));
            return 0;
        });
        return batch;
    }

    /// <summary>Writes down what became of a batch, and the receipt that came with it.</summary>
    public void Settle(IReadOnlyList<OutgoingFact> batch, BatchReceipt answer) => outbox.Write("settle", statements =>
    {
        var now = Moments.Text(clock.GetUtcNow());
        for (var index = 0; index < batch.Count; index++)
        {
            var outcome = answer.Outcomes[index];
            var refused = outcome.Outcome == FactOutcome.Refused;
            statements.Run(
                """
                update fact set state = $state, answered_at = $now, problem = $problem, refused_id = $aside, held_until = null where number = $number
                """,
                ("$state", refused ? "refused" : "in-hand"), ("$now", now), ("$number", batch[index].Number),
                ("$problem", refused && outcome.Problem is { } problem ? JsonSerializer.Serialize(problem, WireJson.Lenient) : null),
                ("$aside", outcome.RefusedId));
        }

        TakeIn(statements, answer.Receipt, now);
    });

    /// <summary>
    /// Takes the service's word on what it has. What it lacks and was thought in hand waits again; where it knows numbers that
    /// were never given here, an older copy of the outbox was put back, and numbers go on above them.
    /// </summary>
    public void TakeIn(Receipt receipt) => outbox.Write("receipt", statements => TakeIn(statements, receipt, Moments.Text(clock.GetUtcNow())));

    /// <summary>Holds a fact back for a while.</summary>
    public void Hold(OutgoingFact fact, Problem problem, TimeSpan length) => outbox.Write("hold", statements => statements.Run(
        "update fact set state = 'held', held_until = $until, problem = $problem where number = $number",
        ("$until", Moments.Text(clock.GetUtcNow() + length)), ("$problem", JsonSerializer.Serialize(problem, WireJson.Lenient)), ("$number", fact.Number)));

    /// <summary>Lets facts go that were held long enough; answers how many.</summary>
    public int Release()
    {
        var now = Moments.Text(clock.GetUtcNow());
        if (outbox.Read(statements => statements.Number("select 1 from fact where state = 'held' and held_until <= $now limit 1", ("$now", now))) is null) return 0;
        return outbox.Write("release", statements => statements.Run(
            "update fact set state = 'waiting', held_until = null where state = 'held' and held_until <= $now", ("$now", now)));
    }

    /// <summary>Says what is in the way of sending; nothing where the text is empty.</summary>
    public void Trouble(string text)
    {
        if ((outbox.Read(statements => statements.Get(Settings.Trouble)) ?? "") == text) return;
        outbox.Write("trouble", statements => statements.Set(Settings.Trouble, text));
    }

    /// <summary>
    /// Lets go of facts that the service has had for long: recorded, at or below the number through which it is complete, and
    /// answered for before that time. Refused ones go once they are mended and the mend is so. Answers how many went.
    /// </summary>
    public int Forget(DateTimeOffset before)
    {
        const string Old =
            """
            from fact where number <= $through and answered_at < $before
            and (state = 'in-hand' or (state = 'refused' and exists (
                select 1 from fact as mend where mend.number = fact.mended_by and mend.state = 'in-hand')))
            """;
        var receipt = outbox.Read(statements => statements.Get(Settings.Receipt)) is { } text ? JsonSerializer.Deserialize<Receipt>(text, WireJson.Lenient) : null;
        if (receipt is null) return 0;
        (string, object?)[] values = [("$through", receipt.CompleteThrough), ("$before", Moments.Text(before))];
        if (outbox.Read(statements => statements.Number($"select 1 {Old} limit 1", values)) is null) return 0;
        return outbox.Write("forget", statements => statements.Run($"delete {Old}", values));
    }

    private static void TakeIn(Statements statements, Receipt receipt, string now)
    {
        var last = int.Parse(statements.Get(Settings.LastNumber)!, CultureInfo.InvariantCulture);
        foreach (var (from, through) in Standing.Lacks(receipt, last))
        {
            (string, object?)[] range = [("$from", from), ("$through", through)];
            const string Thought = "from fact where number between $from and $through and state in ('in-hand', 'refused')";
            if (statements.Number($"select 1 {Thought} limit 1", range) is null) continue;
            statements.Run(
                """
                update fact set state = 'waiting', answered_at = null, problem = null, refused_id = null
                where number between $from and $through and state in ('in-hand', 'refused')
                """, range);
        }

        Remark(statements, receipt, last);
        statements.Set(Settings.Receipt, JsonSerializer.Serialize(receipt, WireJson.Lenient));
        statements.Set(Settings.HeardAt, now);
        statements.Set(Settings.Trouble, "");
    }

    // The service is ahead where an older copy of the outbox was put back, or a new one made. That is over when it is complete
    // through where it was ahead and has had a fact from here since: nothing of this device is then missing anywhere.
    private static void Remark(Statements statements, Receipt receipt, int last)
    {
        if (receipt.Highest > last)
        {
            statements.Set(Settings.LastNumber, Text(receipt.Highest));
            statements.Set(Settings.AheadThrough, Text(receipt.Highest));
            statements.Set(Settings.Remark,
                $"The service has facts of this device through number {receipt.Highest}, this outbox gave numbers through {last} only: "
                + "an older copy of it was put back, or it is new. Numbers go on above.");
            return;
        }

        if (string.IsNullOrEmpty(statements.Get(Settings.Remark))) return;
        // A remark of an agent that did not write down how far: through the last number given at most.
        var ahead = statements.Get(Settings.AheadThrough) is { Length: > 0 } through ? int.Parse(through, CultureInfo.InvariantCulture) : last;
        statements.Set(Settings.AheadThrough, Text(ahead));
        if (receipt.Highest <= ahead) return;
        var lacks = Standing.Lacks(receipt, ahead);
        statements.Set(Settings.Remark, lacks.Count == 0
            ? ""
            : $"The service lacks {string.Join(", ", lacks.Take(MostNamed).Select(Named))}{(lacks.Count > MostNamed ? " and more" : "")} of this device's facts. "
                + "What this outbox has of them it sends; the others stand in the copy that was in use before, if it can be found.");
        if (lacks.Count == 0) statements.Set(Settings.AheadThrough, "");
    }

    private static string Named(NumberRange range) => range.From == range.Through ? Text(range.From) : $"{range.From} to {range.Through}";

    private static string Text(int number) => number.ToString(CultureInfo.InvariantCulture);
}

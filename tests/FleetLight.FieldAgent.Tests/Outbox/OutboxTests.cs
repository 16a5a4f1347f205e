using System.Text.Json;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using FleetLight.FieldAgent.Outbox;
using FleetLight.FieldAgent.Tests.Agents;

namespace FleetLight.FieldAgent.Tests.Outbox;

public sealed class OutboxTests : IDisposable
{
    private const string Source = "/devices/a";
    private readonly AgentFolder folder = new();

    public void Dispose() => folder.Dispose();

    private static NewFact Fact(int value, string? reference = null) => new()
    {
        Type = FactTypes.NameOf(typeof(ReadingTaken)),
        Data = JsonSerializer.SerializeToElement(Readings.Of("k1", value), WireJson.Strict),
        Reference = reference,
    };

    private static BatchReceipt Answer(IReadOnlyList<OutgoingFact> batch, Receipt receipt, int? refused = null) => new()
    {
        Receipt = receipt,
        Outcomes =
        [
            .. batch.Select((fact, index) => new EventOutcome
            {
                Index = index,
                Id = fact.Id,
                Outcome = fact.Number == refused ? FactOutcome.Refused : FactOutcome.Recorded,
            }),
        ],
        Recorded = batch.Count,
        Duplicates = 0,
        Refused = 0,
    };

    private static Receipt Through(int number) => new() { Source = Source, CompleteThrough = number, Highest = number, Missing = [] };

    [Fact]
    public void What_was_recorded_is_there_after_the_file_is_opened_again_with_numbers_without_a_gap()
    {
        using (var parts = folder.Open())
        {
            parts.Desk.Record(Source, [Fact(1), Fact(2)]);
            parts.Desk.Record(Source, [Fact(3)]);
        }

        using var again = folder.Open();
        again.Desk.Record(Source, [Fact(4)]);
        Assert.Equal([1, 2, 3, 4], again.Shelf.List(FactState.Waiting, 0, 10).Select(fact => fact.Number));
        Assert.Equal(4, again.Shelf.List(null, 0, 10).Select(fact => fact.Id).Distinct().Count());
    }

    [Fact]
    public void It_is_kept_with_a_write_ahead_log_and_full_synchronisation()
    {
        using var parts = folder.Open();
        Assert.Equal("wal", parts.Outbox.Read(statements => statements.Text("pragma journal_mode")));
        Assert.Equal(2, parts.Outbox.Read(statements => statements.Number("pragma synchronous")));
    }

    [Fact]
    public void A_fact_that_is_not_sound_keeps_the_others_out_too_and_takes_no_number()
    {
        using var parts = folder.Open();
        var result = parts.Desk.Record(Source, [Fact(1), Fact(9_000_000)]);
        Assert.Equal((1, "data.value"), (result.Index, result.Problem!.Field));
        Assert.Empty(parts.Shelf.List(null, 0, 10));
        Assert.Equal(1, parts.Desk.Record(Source, [Fact(1)]).Written.Single().Number);
    }

    [Fact]
    public void The_same_reference_records_once_and_another_fact_under_it_is_told()
    {
        using var parts = folder.Open();
        var first = parts.Desk.Record(Source, [Fact(1, "r1")]).Written.Single();
        var second = parts.Desk.Record(Source, [Fact(1, "r1")]).Written.Single();
        Assert.Equal(first with { Known = true }, second);
        Assert.Equal(ProblemTypes.Conflict, parts.Desk.Record(Source, [Fact(2, "r1")]).Problem!.Type);
        Assert.Single(parts.Shelf.List(null, 0, 10));
    }

    [Fact]
    public void Many_writers_at_once_get_numbers_without_a_gap_also_from_two_processes_view_of_the_file()
    {
        using var one = folder.Open();
        using var other = folder.Open();
        Parallel.For(0, 40, turn => (turn % 2 == 0 ? one : other).Desk.Record(Source, [Fact(turn)]));
        Assert.Equal(Enumerable.Range(1, 40), one.Shelf.List(null, 0, 100).Select(fact => fact.Number));
    }

    [Fact]
    public void What_the_service_lacks_waits_again_and_comes_first()
    {
        using var parts = folder.Open();
        parts.Desk.Record(Source, [.. Enumerable.Range(1, 6).Select(value => Fact(value))]);
        var batch = parts.Outgoing.Next(6);
        parts.Outgoing.Settle(batch, Answer(batch, Through(6)));
        parts.Desk.Record(Source, [Fact(7)]);

        parts.Outgoing.TakeIn(new Receipt { Source = Source, CompleteThrough = 1, Highest = 4, Missing = [new(2, 3)] });

        Assert.Equal([2, 3, 5, 6, 7], parts.Outgoing.Next(10).Select(fact => fact.Number));
    }

    [Fact]
    public void A_number_that_the_service_knows_is_no_receipt_for_a_fact_that_it_never_answered_for()
    {
        using var parts = folder.Open();
        parts.Desk.Record(Source, [Fact(1)]);
        parts.Outgoing.TakeIn(Through(3));
        Assert.Equal([1], parts.Outgoing.Next(10).Select(fact => fact.Number));
        // An older copy of the outbox was put back: what comes next is counted on from the service's number.
        Assert.Equal(4, parts.Desk.Record(Source, [Fact(2)]).Written.Single().Number);
    }

    [Fact]
    public void A_remark_that_the_service_is_ahead_goes_when_it_has_a_fact_from_here_and_lacks_none_below()
    {
        using var parts = folder.Open();
        parts.Outgoing.TakeIn(Through(3));
        Assert.Contains("facts of this device through number 3", AgentStatus.Of(parts).Remark, StringComparison.Ordinal);
        parts.Outgoing.TakeIn(Through(3));
        Assert.NotNull(AgentStatus.Of(parts).Remark);

        parts.Desk.Record(Source, [Fact(4)]);
        var batch = parts.Outgoing.Next(1);
        parts.Outgoing.Settle(batch, Answer(batch, Through(4)));
        Assert.Null(AgentStatus.Of(parts).Remark);
    }

    [Fact]
    public void A_remark_stays_and_names_what_the_service_lacks_until_it_has_that_too()
    {
        using var parts = folder.Open();
        var gaps = new Receipt { Source = Source, CompleteThrough = 1, Highest = 8, Missing = [new(2, 2), new(4, 6)] };
        parts.Outgoing.TakeIn(gaps);
        parts.Desk.Record(Source, [Fact(9)]);
        var batch = parts.Outgoing.Next(1);
        parts.Outgoing.Settle(batch, Answer(batch, gaps with { Highest = 9 }));
        Assert.StartsWith("The service lacks 2, 4 to 6 of this device's facts.", AgentStatus.Of(parts).Remark, StringComparison.Ordinal);

        // Another copy of the outbox sent them.
        parts.Outgoing.TakeIn(Through(9));
        Assert.Null(AgentStatus.Of(parts).Remark);
    }

    [Fact]
    public void A_mend_is_a_new_fact_of_the_same_time_and_mends_once()
    {
        using var parts = folder.Open();
        parts.Desk.Record(Source, [Fact(1) with { Time = DateTimeOffset.UnixEpoch.AddYears(55) }]);
        var batch = parts.Outgoing.Next(1);
        parts.Outgoing.Settle(batch, Answer(batch, Through(1), refused: 1));
        Assert.Equal([1], parts.Shelf.List(FactState.Refused, 0, 10).Select(fact => fact.Number));

        var mend = new MendedFact { Data = Fact(5).Data };
        var written = parts.Desk.Mend(Source, 1, mend).Written.Single();

        var mended = parts.Shelf.Find(written.Number)!;
        Assert.Equal((2, 1, DateTimeOffset.UnixEpoch.AddYears(55)), (mended.Number, mended.Mends, mended.Time));
        Assert.NotEqual(batch[0].Id, mended.Id);
        Assert.Empty(parts.Shelf.List(FactState.Refused, 0, 10));
        Assert.Equal(ProblemTypes.Conflict, parts.Desk.Mend(Source, 1, mend).Problem!.Type);
        Assert.Equal(ProblemTypes.Conflict, parts.Desk.Mend(Source, 2, mend).Problem!.Type);
        Assert.Equal(ProblemTypes.NotFound, parts.Desk.Mend(Source, 9, mend).Problem!.Type);
    }

    [Fact]
    public void Only_what_the_service_has_had_for_long_and_without_a_gap_below_is_let_go_of()
    {
        using var parts = folder.Open();
        parts.Desk.Record(Source, [.. Enumerable.Range(1, 5).Select(value => Fact(value))]);
        var batch = parts.Outgoing.Next(4);
        parts.Outgoing.Settle(batch, Answer(batch, new Receipt { Source = Source, CompleteThrough = 3, Highest = 4, Missing = [] }, refused: 2));

        Assert.Equal(0, parts.Outgoing.Forget(DateTimeOffset.UtcNow.AddDays(-1)));
        Assert.Equal(2, parts.Outgoing.Forget(DateTimeOffset.UtcNow.AddDays(1)));

        Assert.Equal([2, 4, 5], parts.Shelf.List(null, 0, 10).Select(fact => fact.Number));
        Assert.Equal(6, parts.Desk.Record(Source, [Fact(6)]).Written.Single().Number);
    }
}

using FleetLight.Contracts.Wire;
using FleetLight.FieldAgent.Sending;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FleetLight.FieldAgent.Tests.Sending;

public class StandingTests
{
    private const string Source = "/devices/a";

    // The service's part, by its contract: through which number it is complete, and the gaps below the highest.
    private static Receipt ReceiptOf(HashSet<int> has)
    {
        var highest = has.DefaultIfEmpty(0).Max();
        var missing = new List<NumberRange>();
        for (var number = 1; number <= highest; number++)
        {
            if (has.Contains(number)) continue;
            if (missing is [.., var last] && last.Through == number - 1) missing[^1] = last with { Through = number };
            else missing.Add(new NumberRange(number, number));
        }

        return new Receipt
        {
            Source = Source,
            CompleteThrough = missing.Count > 0 ? missing[0].From - 1 : highest,
            Highest = highest,
            Missing = missing,
        };
    }

    [Property(MaxTest = 1000)]
    public Property What_the_service_lacks_is_what_it_does_not_have_and_nothing_else() => Prop.ForAll(
        Gen.Choose(0, 60).ListOf().ToArbitrary(), Gen.Choose(0, 50).ToArbitrary(), (numbers, last) =>
        {
            var has = numbers.Where(number => number > 0).ToHashSet();
            var lacks = Standing.Lacks(ReceiptOf(has), last).SelectMany(range => Enumerable.Range(range.From, range.Through - range.From + 1)).ToList();
            return lacks.SequenceEqual(Enumerable.Range(1, last).Where(number => !has.Contains(number)));
        });

    [Fact]
    public void A_service_that_was_put_back_to_an_older_state_lacks_what_came_since() =>
        Assert.Equal([new NumberRange(41, 60)], Standing.Lacks(ReceiptOf(Enumerable.Range(1, 40).ToHashSet()), 60));

    [Fact]
    public void A_receipt_that_makes_no_sense_asks_for_nothing_that_was_never_given() => Assert.Empty(Standing.Lacks(
        new Receipt { Source = Source, CompleteThrough = 0, Highest = 9, Missing = [new(0, 3), new(8, 9), new(6, 5)] }, 5));

    [Theory]
    [InlineData(Source, "a,b", true)]
    [InlineData("/devices/b", "a,b", false)]
    [InlineData(Source, "b,a", false)]
    [InlineData(Source, "a", false)]
    [InlineData(Source, "a,b,c", false)]
    public void Only_an_answer_to_what_was_sent_is_believed(string source, string ids, bool believed)
    {
        var answer = new BatchReceipt
        {
            Receipt = new Receipt { Source = source, CompleteThrough = 2, Highest = 2, Missing = [] },
            Outcomes = [.. ids.Split(',').Select((id, index) => new EventOutcome { Index = index, Id = id, Outcome = FactOutcome.Recorded })],
            Recorded = 2,
            Duplicates = 0,
            Refused = 0,
        };

        Assert.Equal(believed, Standing.Answers(answer, Source, ["a", "b"]));
    }

    [Fact]
    public void An_answer_without_its_parts_is_not_believed() =>
        Assert.False(Standing.Answers(System.Text.Json.JsonSerializer.Deserialize<BatchReceipt>(
            """{"receipt":null,"outcomes":null,"recorded":0,"duplicates":0,"refused":0}""", WireJson.Lenient)!, Source, []));
}

using System.Text;
using FleetLight.Client.Devices;
using FleetLight.Contracts.Wire;
using FleetLight.FieldAgent.Sending;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FleetLight.FieldAgent.Tests.Sending;

public class BatchTests
{
    private static readonly TimeSpan Limit = TimeSpan.FromSeconds(30);

    [Property(MaxTest = 1000)]
    public Property A_size_stays_within_what_the_contract_takes() => Prop.ForAll(
        Gen.Elements(Enum.GetValues<BatchFate>()).ListOf().ToArbitrary(), Gen.Choose(0, 60).ToArbitrary(), (fates, seconds) =>
        {
            var size = BatchSize.First;
            foreach (var fate in fates)
            {
                size = size.After(fate, size.Events, TimeSpan.FromSeconds(seconds), Limit);
                if (size.Events is < 1 or > Envelope.MostEvents) return false;
            }

            return true;
        });

    [Fact]
    public void Quick_answers_bring_it_to_the_most_and_trouble_brings_it_to_one()
    {
        var size = BatchSize.First;
        for (var turn = 0; turn < 10; turn++) size = size.After(BatchFate.Answered, size.Events, TimeSpan.FromSeconds(1), Limit);
        Assert.Equal(Envelope.MostEvents, size.Events);
        for (var turn = 0; turn < 10; turn++) size = size.After(BatchFate.TooMuch, size.Events, Limit, Limit);
        Assert.Equal(1, size.Events);
    }

    [Fact]
    public void A_batch_that_was_not_full_says_nothing_of_a_larger_one() =>
        Assert.Equal(BatchSize.First, BatchSize.First.After(BatchFate.Answered, 3, TimeSpan.Zero, Limit));

    [Fact]
    public void Half_of_what_was_sent_is_tried_not_half_of_what_might_have_been() =>
        Assert.Equal(2, new BatchSize(400).After(BatchFate.TooMuch, 4, Limit, Limit).Events);

    [Fact]
    public void A_slow_answer_does_not_make_it_grow() =>
        Assert.Equal(100, new BatchSize(100).After(BatchFate.Answered, 100, TimeSpan.FromSeconds(20), Limit).Events);

    [Property(MaxTest = 300)]
    public Property A_batch_is_as_large_as_it_may_be_and_no_larger() => Prop.ForAll(
        Gen.Choose(1, 300).ListOf().ToArbitrary(), Gen.Choose(1, 20).ToArbitrary(), Gen.Choose(20, 2000).ToArbitrary(), (lengths, most, bytes) =>
        {
            var cut = new BatchCut(most, bytes);
            var taken = lengths.TakeWhile(length => cut.Takes(length)).ToList();
            var text = FactEvent.Batch(taken.Select(length => (ReadOnlyMemory<byte>)Encoding.ASCII.GetBytes(new string('x', length))));
            var fits = taken.Count <= 1 || (taken.Count <= most && text.Length <= bytes);
            var full = taken.Count == lengths.Count || taken.Count >= most || text.Length + lengths[taken.Count] + 1 > bytes;
            return fits && full;
        });

    [Property(MaxTest = 500)]
    public Property A_rest_is_never_shorter_than_asked_for_and_never_longer_than_need_be() => Prop.ForAll(
        Gen.Choose(1, 40).ToArbitrary(), Gen.Choose(-1, 600).ToArbitrary(), Gen.Choose(0, 100).ToArbitrary(), (failures, seconds, percent) =>
        {
            TimeSpan? asked = seconds < 0 ? null : TimeSpan.FromSeconds(seconds);
            var longest = TimeSpan.FromMinutes(5);
            var rest = Pauses.After(failures, asked, longest, percent / 100.0);
            return rest >= TimeSpan.FromSeconds(0.5) && (asked is not { } least || rest >= least)
                && rest <= TimeSpan.FromSeconds(Math.Max(longest.TotalSeconds, 1.25 * Math.Max(seconds, 0)));
        });
}

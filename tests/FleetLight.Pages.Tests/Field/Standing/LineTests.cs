using FleetLight.Field.Keeping;
using FleetLight.Field.Standing;

namespace FleetLight.Pages.Tests.Field.Standing;

/// <summary>What the line of the page says of sending.</summary>
public sealed class LineTests
{
    private static readonly DateTimeOffset Now = new(2026, 3, 2, 14, 30, 0, TimeSpan.FromHours(1));

    [Fact]
    public void Nothing_waits() => Says("All is sent, last at 09:12.", false, new OutboxSummary { LastSentAt = At(9, 12) });

    [Fact]
    public void Sent_on_another_day() => Says(
        "All is sent, last at 1 Mar 09:12. No signal.", false, new OutboxSummary { LastSentAt = At(9, 12) - TimeSpan.FromDays(1).TotalMilliseconds }, hasSignal: false);

    [Fact]
    public void Waiting_without_a_signal() => Says("3 facts wait: no signal.", false, new OutboxSummary { Waiting = 3 }, hasSignal: false);

    [Fact]
    public void One_fact_and_a_photo() => Says("1 fact and 1 photo wait: being sent.", false, new OutboxSummary { Waiting = 1, Photos = 1 });

    [Fact]
    public void The_service_is_down() => Says("1 fact waits: the service is not reached.", false, new OutboxSummary { Waiting = 1, Trouble = "down" });

    [Fact]
    public void A_refused_fact_asks_for_a_person() => Says("Nothing waits. 1 fact refused: see what to mend.", true, new OutboxSummary { Refused = 1 });

    [Fact]
    public void A_key_that_is_not_taken_asks_for_a_code_and_says_that_facts_are_safe() => Says(
        "This phone's key is not taken any more. 2 facts wait, safe here. Ask the office for a new code.", true, new OutboxSummary { Waiting = 2, KeyNotTaken = true });

    private static void Says(string text, bool asks, OutboxSummary outbox, bool hasSignal = true) =>
        Assert.Equal(new StandingLine(text, asks), StandingLine.Of(outbox, hasSignal, Now));

    private static double At(int hour, int minute) => new DateTimeOffset(2026, 3, 2, hour, minute, 0, TimeSpan.FromHours(1)).ToUnixTimeMilliseconds();
}

using System.Text.Json.Nodes;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Intake;

public sealed class DeviceClockTests(FleetService service) : IClassFixture<FleetService>
{
    private DateTimeOffset Now => service.Clock.Now;

    [Fact]
    public async Task A_clock_a_day_ahead_is_allowed_for()
    {
        Device device = await AddDeviceAsync();
        DateTimeOffset shown = Now.AddDays(1).AddHours(-2);

        BatchReceipt receipt = await device.SendAsync(Now.AddDays(1), device.Record(Some.SiteOpened(), shown));

        Assert.Equal(86400, receipt.ClockErrorSeconds);
        Assert.Equal(TimeDoubt.ClockCorrected, Assert.Single(receipt.Outcomes).TimeDoubt);
        await OriginIsAsync(device, deviceTime: shown, happenedAt: Now.AddHours(-2), TimeDoubt.ClockCorrected, 86400);
    }

    [Fact]
    public async Task A_clock_that_is_slow_is_allowed_for()
    {
        Device device = await AddDeviceAsync();
        DateTimeOffset shown = Now.AddHours(-4);

        await device.SendAsync(Now.AddHours(-3), device.Record(Some.SiteOpened(), shown));

        await OriginIsAsync(device, deviceTime: shown, happenedAt: Now.AddHours(-1), TimeDoubt.ClockCorrected, -10800);
    }

    [Fact]
    public async Task A_small_error_is_noted_and_left_alone()
    {
        Device device = await AddDeviceAsync();
        DateTimeOffset shown = Now.AddHours(-2);

        BatchReceipt receipt = await device.SendAsync(Now.AddSeconds(90), device.Record(Some.SiteOpened(), shown));

        Assert.Null(Assert.Single(receipt.Outcomes).TimeDoubt);
        await OriginIsAsync(device, deviceTime: shown, happenedAt: shown, null, 90);
    }

    [Fact]
    public async Task A_time_ahead_is_recorded_doubted_and_put_at_its_arrival()
    {
        Device device = await AddDeviceAsync();
        DateTimeOffset shown = Now.AddMinutes(6);

        BatchReceipt receipt = await device.SendAsync(device.Record(Some.SiteOpened(), shown));

        Assert.Equal((1, TimeDoubt.Ahead), (receipt.Recorded, Assert.Single(receipt.Outcomes).TimeDoubt));
        await OriginIsAsync(device, deviceTime: shown, happenedAt: Now, TimeDoubt.Ahead, null);
    }

    [Fact]
    public async Task A_time_a_little_ahead_is_not_doubted()
    {
        Device device = await AddDeviceAsync();

        BatchReceipt receipt = await device.SendAsync(device.Record(Some.SiteOpened(), Now.AddMinutes(4)));

        Assert.Null(Assert.Single(receipt.Outcomes).TimeDoubt);
    }

    [Theory]
    [InlineData("2004-12-31T23:59:59Z")]
    [InlineData("1970-01-01T00:00:00Z")]
    [InlineData("0001-01-01T00:00:00Z")]
    public async Task An_implausibly_old_time_is_recorded_doubted_and_put_at_its_arrival(string time)
    {
        Device device = await AddDeviceAsync();
        SentEvent old = device.Record(Some.SiteOpened()).Change(envelope => envelope["time"] = time);

        BatchReceipt receipt = await device.SendAsync(old);

        Assert.Equal((1, TimeDoubt.ImplausiblyOld), (receipt.Recorded, Assert.Single(receipt.Outcomes).TimeDoubt));
        await OriginIsAsync(device, DateTimeOffset.Parse(time, null), Now, TimeDoubt.ImplausiblyOld, null);
    }

    [Theory]
    [InlineData("9999-12-31T23:59:59Z")]
    [InlineData("0001-01-01T00:00:00Z")]
    public async Task A_clock_at_the_end_of_time_harms_nothing(string clock)
    {
        Device device = await AddDeviceAsync();
        SentEvent[] both =
        [
            device.Record(Some.SiteOpened()).Change(envelope => envelope["time"] = "9999-12-31T23:59:59.9999999Z"),
            device.Record(Some.BoxSealed()).Change(envelope => envelope["time"] = "0001-01-01T00:00:00Z"),
        ];

        BatchReceipt receipt = await device.SendAsync(DateTimeOffset.Parse(clock, null), both);

        Assert.Equal(2, receipt.Recorded);
    }

    [Fact]
    public async Task A_phone_with_a_wrong_clock_does_not_outrank_a_later_reading()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device wrong = await organisation.AddDeviceAsync();
        Device right = await organisation.AddDeviceAsync();
        // By its own clock the phone read tomorrow; it read an hour before the other device.
        SentEvent earlier = wrong.Record(Some.Reading(9.1), Now.AddDays(1).AddHours(-3));
        SentEvent later = right.Record(Some.Reading(9.4), Now.AddHours(-2));

        await right.SendAsync(Now, later);
        await wrong.SendAsync(Now.AddDays(1), earlier);
        await service.CaughtUpAsync();

        CircuitView circuit = await organisation.Office.ReadAsync<CircuitView>($"/v1/circuits/{Some.Circuit}");
        Assert.Equal([9.4, 9.1], circuit.LastReadings.Select(reading => reading.Value));
    }

    [Theory]
    [InlineData("1970-01-02T03:04:05Z")]
    [InlineData("2005-01-01T00:00:00Z")]
    public async Task A_clock_that_was_set_after_recording_does_not_spoil_a_time_that_can_be(string clock)
    {
        Device device = await AddDeviceAsync();
        DateTimeOffset shown = Now.AddDays(-3);

        BatchReceipt receipt = await device.SendAsync(DateTimeOffset.Parse(clock, null), device.Record(Some.SiteOpened(), shown));

        Assert.Equal(TimeDoubt.ClockJumped, Assert.Single(receipt.Outcomes).TimeDoubt);
        await OriginIsAsync(device, shown, shown, TimeDoubt.ClockJumped, Math.Round((DateTimeOffset.Parse(clock, null) - Now).TotalSeconds, 1));
    }

    // RFC 3339, 5.7: the second 60 stands at the end of months in which a leap second occurs, UTC; 5.8 has both examples.
    [Theory]
    [InlineData("1990-12-31T23:59:60Z", null)]
    [InlineData("2016-12-31T23:59:60Z", "2016-12-31T23:59:59.999999Z")]
    [InlineData("2016-12-31T23:59:60.75Z", "2016-12-31T23:59:59.999999Z")]
    [InlineData("2016-12-31T15:59:60-08:00", "2016-12-31T23:59:59.999999Z")]
    public async Task A_leap_second_is_taken_as_the_last_moment_before_midnight(string time, string? happenedAt)
    {
        Device device = await AddDeviceAsync();
        SentEvent within = device.Record(Some.SiteOpened()).Change(envelope => envelope["time"] = time);

        Assert.Equal(1, (await device.SendAsync(within)).Recorded);
        Assert.Equal(1, (await device.SendAsync(within)).Duplicates);

        if (happenedAt is not null) await OriginIsAsync(device, DateTimeOffset.Parse(happenedAt, null), DateTimeOffset.Parse(happenedAt, null), null, null);
    }

    [Theory]
    [InlineData("2016-12-30T23:59:60Z")]
    [InlineData("2016-12-31T22:59:60Z")]
    [InlineData("2016-12-31T23:59:61Z")]
    [InlineData("2016-12-31T23:59:60+01:00")]
    [InlineData("2016-12-31T23:59:60")]
    [InlineData("9999-12-31T23:59:60Z")]
    public async Task A_second_60_anywhere_else_is_refused(string time)
    {
        Device device = await AddDeviceAsync();

        BatchReceipt receipt = await device.SendAsync(device.Record(Some.SiteOpened()).Change(envelope => envelope["time"] = time));

        Assert.Equal(("time", ProblemTypes.EnvelopeInvalid), (receipt.Outcomes[0].Problem?.Field, receipt.Outcomes[0].Problem?.Type));
    }

    [Fact]
    public async Task A_leap_second_and_half_of_a_surrogate_pair_in_one_event_do_not_sink_its_batch()
    {
        Device device = await AddDeviceAsync();
        SentEvent bad = device.Record(Some.SiteOpened())
            .Change(envelope => (envelope["time"], envelope["subject"]) = ("2016-12-31T23:59:60Z", "half")).Replace("\"half\"", "\"\\ud800\"");

        BatchReceipt receipt = await device.SendAsync(bad, device.Record(Some.SiteOpened()));

        Assert.Equal([FactOutcome.Refused, FactOutcome.Recorded], receipt.Outcomes.Select(outcome => outcome.Outcome));
        Assert.Equal(ProblemTypes.BodyUnreadable, receipt.Outcomes[0].Problem?.Type);
    }

    [Fact]
    public async Task A_clock_shown_within_a_leap_second_is_understood()
    {
        Device device = await AddDeviceAsync();

        Answer answer = await device.PostAsync(
            SentEvent.Batch([device.Record(Some.SiteOpened())]), (Envelope.DeviceClockHeader, "2016-12-31T23:59:60Z"));

        Assert.Equal(System.Net.HttpStatusCode.OK, answer.Status);
    }

    // The night in which clocks go back one hour: 01:50 by summer time is before 01:10 by winter time.
    [Fact]
    public async Task The_hour_that_comes_twice_is_told_apart_by_its_offset()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        await device.SendAsync(
            device.Record(Some.Reading(9.4), new DateTimeOffset(2025, 10, 26, 1, 10, 0, TimeSpan.Zero)),
            device.Record(Some.Reading(9.1), new DateTimeOffset(2025, 10, 26, 1, 50, 0, TimeSpan.FromHours(1))));
        await service.CaughtUpAsync();

        CircuitView circuit = await organisation.Office.ReadAsync<CircuitView>($"/v1/circuits/{Some.Circuit}");

        Assert.Equal([9.4, 9.1], circuit.LastReadings.Select(reading => reading.Value));
    }

    [Fact]
    public async Task A_local_time_without_its_offset_is_refused_and_not_guessed()
    {
        Device device = await AddDeviceAsync();

        BatchReceipt receipt = await device.SendAsync(
            device.Record(Some.SiteOpened()).Change(envelope => envelope["time"] = "2025-10-26T01:50:00"));

        Assert.Equal(("time", ProblemTypes.EnvelopeInvalid), (receipt.Outcomes[0].Problem?.Field, receipt.Outcomes[0].Problem?.Type));
    }

    private async Task<Device> AddDeviceAsync() =>
        await (await service.AddOrganisationAsync()).AddDeviceAsync($"urn:device:{Guid.NewGuid()}");

    private async Task OriginIsAsync(Device device, DateTimeOffset deviceTime, DateTimeOffset happenedAt, TimeDoubt? doubt, double? errorSeconds)
    {
        JsonNode of = JsonNode.Parse(Assert.Single(await service.QueryAsync<string>(
            "select data ->> 'of' from fleetlight.mt_events where data -> 'of' ->> 'source' = $1", device.Source)))!;
        Assert.Equal(deviceTime, (DateTimeOffset?)of["deviceTime"]);
        Assert.Equal(happenedAt, (DateTimeOffset?)of["happenedAt"]);
        Assert.Equal(doubt is null ? null : doubt.ToString(), Word(of["timeDoubt"]));
        Assert.Equal(errorSeconds, (double?)of["clockErrorSeconds"]);
    }

    private static string? Word(JsonNode? kebab) => kebab is null
        ? null
        : string.Concat(((string)kebab!).Split('-').Select(part => char.ToUpperInvariant(part[0]) + part[1..]));
}

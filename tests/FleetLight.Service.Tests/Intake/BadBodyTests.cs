using System.Net;
using System.Text;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Tests.Approvals;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Intake;

/// <summary>A request that is wrong as a whole is answered with one problem, and nothing of it is recorded.</summary>
public sealed class BadBodyTests(FleetService service) : IClassFixture<FleetService>
{
    private const string Good = "{\"specversion\":\"1.0\",\"id\":\"1\"}";

    public static TheoryData<string, string> Bodies => new()
    {
        { "an empty body", "" },
        { "blanks", " \r\n\t" },
        { "no JSON", "duct laid" },
        { "one event as a batch", Good },
        { "an empty batch", "[]" },
        { "an empty batch with blanks", " [ \n ] " },
        { "a batch cut short in an event", "[" + Good[..^5] },
        { "a batch cut short between events", $"[{Good}," },
        { "a batch cut short in a text", $"[{Good},{{\"specversion\":\"1." },
        { "a batch cut short behind an escape", "[{\"id\":\"\\" },
        { "more behind the batch", $"[{Good}] and so on" },
        { "two batches", $"[{Good}][{Good}]" },
        { "a text", "\"[]\"" },
        { "a byte order mark", "\uFEFF[]" },
    };

    [Theory]
    [MemberData(nameof(Bodies))]
    public async Task A_body_that_is_no_batch_is_not_taken(string name, string body)
    {
        Device device = await AddDeviceAsync();

        Answer answer = await device.PostAsync(body);

        Approved.Same("BadBodies", name, answer);
        await NothingRecordedAsync(device);
    }

    [Theory]
    [InlineData("application/json")]
    [InlineData("text/plain")]
    [InlineData("application/cloudevents-batch+xml")]
    [InlineData("cloudevents")]
    [InlineData("")]
    [InlineData(null)]
    public async Task Another_content_type_is_not_taken(string? contentType)
    {
        Device device = await AddDeviceAsync();

        Answer answer = await device.Api.PostAsync("/v1/events", SentEvent.Batch([device.Record(Some.SiteOpened())]), contentType);

        Assert.Equal(HttpStatusCode.UnsupportedMediaType, answer.Status);
        Approved.Same("BadBodies", $"content type {contentType ?? "left out"}", answer);
        await NothingRecordedAsync(device);
    }

    [Theory]
    [InlineData("application/cloudevents-batch+json; charset=utf-8")]
    [InlineData("Application/CloudEvents-Batch+JSON")]
    public async Task The_content_type_may_be_written_as_HTTP_allows(string contentType)
    {
        Device device = await AddDeviceAsync();

        Answer answer = await device.Api.PostAsync("/v1/events", SentEvent.Batch([device.Record(Some.SiteOpened())]), contentType);

        Assert.Equal(1, answer.Expect(HttpStatusCode.OK).As<BatchReceipt>().Recorded);
    }

    [Fact]
    public async Task A_compressed_body_is_no_JSON_here()
    {
        Device device = await AddDeviceAsync();

        Answer answer = await device.Api.PostAsync("/v1/events", [0x1f, 0x8b, 8, 0, 0, 0], Envelope.BatchMediaType);

        Assert.Equal(HttpStatusCode.BadRequest, answer.Status);
        Assert.Equal(ProblemTypes.BodyUnreadable, answer.As<Problem>().Type);
    }

    [Fact]
    public async Task Bytes_that_are_no_UTF_8_cost_their_fact_only()
    {
        Device device = await AddDeviceAsync();
        SentEvent good = device.Record(Some.SiteOpened());
        byte[] bad = Encoding.UTF8.GetBytes(device.Record(Some.BoxSealed()).Text);
        bad[Encoding.UTF8.GetString(bad).IndexOf("box-1", StringComparison.Ordinal)] = 0xC3;

        Answer answer = await device.Api.PostAsync(
            "/v1/events", [.. "["u8, .. Encoding.UTF8.GetBytes(good.Text), .. ","u8, .. bad, .. "]"u8], Envelope.BatchMediaType);

        BatchReceipt receipt = answer.Expect(HttpStatusCode.OK).As<BatchReceipt>();
        Assert.Equal([FactOutcome.Recorded, FactOutcome.Refused], receipt.Outcomes.Select(each => each.Outcome));
        Approved.Same("BadFacts", "bytes that are no UTF-8", receipt.Outcomes[1].Problem!);
    }

    [Theory]
    [InlineData("soon")]
    [InlineData("2026-13-01T00:00:00Z")]
    [InlineData("1772438400")]
    public async Task A_device_clock_that_cannot_be_read_is_not_guessed_at(string clock)
    {
        Device device = await AddDeviceAsync();

        Answer answer = await device.PostAsync(SentEvent.Batch([device.Record(Some.SiteOpened())]), (Envelope.DeviceClockHeader, clock));

        Approved.Same("BadBodies", "an unreadable device clock", answer);
        await NothingRecordedAsync(device);
    }

    [Fact]
    public async Task A_single_event_that_is_wrong_is_refused_like_one_of_a_batch()
    {
        Device device = await AddDeviceAsync();

        Answer answer = await device.PostOneAsync(device.Record(Some.DuctLaid()).ChangeData(data => data.Remove("wall")));

        BatchReceipt receipt = answer.Expect(HttpStatusCode.OK).As<BatchReceipt>();
        Assert.Equal("data.wall", Assert.Single(receipt.Outcomes).Problem!.Field);
        Assert.Equal(1, receipt.Receipt.CompleteThrough);
    }

    [Fact]
    public async Task A_batch_as_a_single_event_is_refused()
    {
        Device device = await AddDeviceAsync();

        Answer answer = await device.Api.PostAsync("/v1/events", SentEvent.Batch([device.Record(Some.SiteOpened())]), Envelope.SingleMediaType);

        Assert.Equal(FactOutcome.Refused, Assert.Single(answer.Expect(HttpStatusCode.OK).As<BatchReceipt>().Outcomes).Outcome);
        await NothingRecordedAsync(device);
    }

    [Fact]
    public async Task A_connection_that_is_cut_in_the_body_records_nothing_and_harms_nobody()
    {
        Device device = await AddDeviceAsync();
        SentEvent sent = device.Record(Some.SiteOpened());
        byte[] whole = Encoding.UTF8.GetBytes($"[{sent.Text}]");

        await CutRequest.SendAsync(service.Running.Address, device.Api.Key!, whole, sendOnly: whole.Length - 1);

        Assert.Equal(0, (await device.ReceiptAsync()).Highest);
        Assert.Equal(1, (await device.SendAsync(sent)).Recorded);
    }

    private async Task<Device> AddDeviceAsync() => await (await service.AddOrganisationAsync()).AddDeviceAsync();

    private static async Task NothingRecordedAsync(Device device) => Assert.Equal(0, (await device.ReceiptAsync()).Highest);
}

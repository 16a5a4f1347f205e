using System.Net;
using System.Text;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Tests.Approvals;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Intake;

public sealed class BatchLimitTests(FleetService service) : IClassFixture<FleetService>
{
    [Fact]
    public async Task A_batch_of_the_most_events_is_taken()
    {
        Device device = await AddDeviceAsync();

        BatchReceipt receipt = await device.SendAsync(Many(device, Envelope.MostEvents));

        Assert.Equal(Envelope.MostEvents, receipt.Recorded);
        Assert.Equal(Envelope.MostEvents, receipt.Receipt.CompleteThrough);
    }

    [Fact]
    public async Task A_batch_of_one_more_is_not_taken_at_all()
    {
        Device device = await AddDeviceAsync();

        Answer answer = await device.PostAsync(Many(device, Envelope.MostEvents + 1));

        Approved.Same("BadBodies", "one event too many", answer);
        Assert.Equal(0, (await device.ReceiptAsync()).Highest);
    }

    [Fact]
    public async Task A_body_of_the_most_bytes_is_taken()
    {
        Device device = await AddDeviceAsync();
        string batch = SentEvent.Batch([device.Record(Some.SiteOpened())]);

        Answer answer = await device.PostAsync(batch.PadRight(Envelope.MostBytes));

        Assert.Equal(1, answer.Expect(HttpStatusCode.OK).As<BatchReceipt>().Recorded);
    }

    [Fact]
    public async Task A_body_of_one_byte_more_is_not_taken()
    {
        Device device = await AddDeviceAsync();
        string batch = SentEvent.Batch([device.Record(Some.SiteOpened())]);

        Answer answer = await device.PostAsync(batch.PadRight(Envelope.MostBytes + 1));

        Approved.Same("BadBodies", "one byte too many", answer);
        Assert.Equal(0, (await device.ReceiptAsync()).Highest);
    }

    [Fact]
    public async Task A_body_that_does_not_say_how_long_it_is_is_measured_as_it_comes()
    {
        Device device = await AddDeviceAsync();
        string batch = SentEvent.Batch([device.Record(Some.SiteOpened())]);

        Answer taken = await PostChunkedAsync(device, batch.PadRight(Envelope.MostBytes));
        Answer tooLarge = await PostChunkedAsync(device, batch.PadRight(Envelope.MostBytes + 1));

        Assert.Equal(1, taken.Expect(HttpStatusCode.OK).As<BatchReceipt>().Recorded);
        Approved.Same("BadBodies", "one byte too many", tooLarge);
    }

    [Fact]
    public async Task The_connection_can_be_used_again_after_a_body_that_was_too_large()
    {
        Device device = await AddDeviceAsync();

        for (int round = 0; round < 3; round++)
        {
            Answer tooLarge = await device.PostAsync("[]".PadRight(Envelope.MostBytes + 1));
            Assert.Equal(HttpStatusCode.RequestEntityTooLarge, tooLarge.Status);
            Assert.Equal(1, (await device.TellAsync(Some.SiteOpened())).Recorded);
        }
    }

    private static async Task<Answer> PostChunkedAsync(Device device, string batch)
    {
        using StreamContent content = new(new Unsized(Encoding.UTF8.GetBytes(batch)));
        content.Headers.TryAddWithoutValidation("Content-Type", Envelope.BatchMediaType);
        return await device.Api.SendAsync(HttpMethod.Post, "/v1/events", content);
    }

    private static SentEvent[] Many(Device device, int count) =>
        [.. Enumerable.Range(1, count).Select(number => device.Record(Some.Reading(9 + number / 10000.0)))];

    private async Task<Device> AddDeviceAsync() => await (await service.AddOrganisationAsync()).AddDeviceAsync();

    // A stream that cannot tell its length is sent in chunks.
    private sealed class Unsized(byte[] bytes) : MemoryStream(bytes)
    {
        public override bool CanSeek => false;
    }
}

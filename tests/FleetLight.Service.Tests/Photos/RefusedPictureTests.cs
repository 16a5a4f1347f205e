using System.Net;
using System.Net.Sockets;
using System.Text;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Photos;

/// <summary>Pictures that are not taken: each is told why, and nothing else suffers from it.</summary>
public sealed class RefusedPictureTests(SmallAttachments service) : IClassFixture<SmallAttachments>
{
    [Fact]
    public async Task Other_bytes_than_those_named_are_refused()
    {
        Device device = await DeviceAsync();
        Picture picture = Picture.Of("right");

        Answer refused = await device.Api.PutAsync(picture.Path, Picture.Of("wrong").Bytes, "image/png");

        AssertProblem(refused, HttpStatusCode.BadRequest, ProblemTypes.DigestDiffers);
        Assert.Equal(HttpStatusCode.Created, (await picture.SendAsync(device.Api)).Status);
    }

    [Theory]
    [InlineData("image/jpeg")]
    [InlineData("image/webp")]
    public async Task A_picture_of_another_kind_than_stated_is_refused(string mediaType) =>
        AssertProblem(await Picture.Of("png").SendAsync((await DeviceAsync()).Api, mediaType), HttpStatusCode.BadRequest, ProblemTypes.PictureUnreadable);

    [Theory]
    [InlineData("text/html")]
    [InlineData("image/svg+xml")]
    public async Task Another_content_type_is_refused(string mediaType) => AssertProblem(
        await Picture.Of("png").SendAsync((await DeviceAsync()).Api, mediaType), HttpStatusCode.UnsupportedMediaType, ProblemTypes.ContentTypeUnknown);

    [Theory]
    [InlineData("x")]
    [InlineData("0123456789ABCDEF0123456789ABCDEF0123456789ABCDEF0123456789ABCDEF")]
    public async Task A_path_that_names_no_digest_is_refused(string sha256)
    {
        Answer refused = await (await DeviceAsync()).Api.PutAsync($"/v1/attachments/{sha256}", Picture.Of("x").Bytes, "image/png");

        AssertProblem(refused, HttpStatusCode.BadRequest, ProblemTypes.ParameterInvalid);
        Assert.Equal("sha256", refused.As<Problem>().Field);
    }

    [Fact]
    public async Task More_bytes_than_are_taken_are_refused_before_they_are_read()
    {
        Device device = await DeviceAsync();
        Uri address = service.Running.Address;
        using TcpClient connection = new();
        await connection.ConnectAsync(address.Host, address.Port, TestContext.Current.CancellationToken);
        await using NetworkStream stream = connection.GetStream();
        // The head alone: whoever answers it has read nothing of the picture.
        await stream.WriteAsync(Encoding.ASCII.GetBytes(
            $"PUT {Picture.Of("large").Path} HTTP/1.1\r\nHost: {address.Authority}\r\nAuthorization: Bearer {device.Api.Key}\r\n"
            + $"Content-Type: image/png\r\nContent-Length: {SmallAttachments.MostBytesEach + 1}\r\n\r\n"), TestContext.Current.CancellationToken);
        using StreamReader reader = new(stream);

        string? status = await reader.ReadLineAsync(TestContext.Current.CancellationToken).AsTask().WaitAsync(Eventually.Deadline, TestContext.Current.CancellationToken);

        Assert.Equal("HTTP/1.1 413 Payload Too Large", status);
    }

    [Fact]
    public async Task More_bytes_than_are_taken_are_refused_where_their_number_is_not_said()
    {
        Picture picture = Picture.Of("chunked", SmallAttachments.MostBytesEach);
        using StreamContent content = new(new Unseekable(picture.Bytes));
        content.Headers.TryAddWithoutValidation("Content-Type", "image/png");

        Answer refused = await (await DeviceAsync()).Api.SendAsync(HttpMethod.Put, picture.Path, content);

        AssertProblem(refused, HttpStatusCode.RequestEntityTooLarge, ProblemTypes.RequestTooLarge);
    }

    [Fact]
    public async Task Beyond_the_room_of_an_organisation_nothing_more_is_kept_and_its_facts_still_are()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        Picture[] pictures = [.. Enumerable.Range(0, 4).Select(number => Picture.Of($"{number}", 1500))];

        Answer[] answers = [];
        foreach (Picture picture in pictures) answers = [.. answers, await picture.SendAsync(device.Api)];

        Assert.Equal([HttpStatusCode.Created, HttpStatusCode.Created, HttpStatusCode.Created], answers[..3].Select(answer => answer.Status));
        AssertProblem(answers[3], HttpStatusCode.Conflict, ProblemTypes.QuotaExceeded);
        // What is in hand is known, room or not.
        Assert.Equal(HttpStatusCode.OK, (await pictures[0].SendAsync(device.Api)).Status);
        await device.TellAsync(pictures[3].Taken());
        await service.CaughtUpAsync();
        Assert.False(Assert.Single((await organisation.Office.ReadAsync<Page<PhotoView>>("/v1/photos")).Items).InHand);
        // The room is each organisation's own.
        Assert.Equal(HttpStatusCode.Created, (await pictures[3].SendAsync((await DeviceAsync()).Api)).Status);
    }

    [Fact]
    public async Task One_key_does_not_take_all_places_with_pictures_that_come_slowly()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device slow = await organisation.AddDeviceAsync(), other = await organisation.AddDeviceAsync();
        using CancellationTokenSource end = new();
        Task[] halves = [.. Enumerable.Range(0, 2).Select(number => HalfAsync(slow, Picture.Of($"half {number}", 500), end.Token))];
        await Eventually.IsSoAsync(
            async () => (await Picture.Of("third").SendAsync(slow.Api)).Status == HttpStatusCode.TooManyRequests, "both places of the key to be taken");

        Assert.Equal(HttpStatusCode.Created, (await Picture.Of("another device").SendAsync(other.Api)).Status);

        await end.CancelAsync();
        await Task.WhenAll(halves);
        await Eventually.IsSoAsync(
            async () => (await Picture.Of("fourth").SendAsync(slow.Api)).Status is HttpStatusCode.Created or HttpStatusCode.OK, "the places to be free again");
    }

    [Fact]
    public async Task Whoever_may_not_post_keeps_nothing_and_whoever_may_not_read_sees_nothing()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        Picture picture = Picture.Of("private");
        await picture.SendAsync(device.Api);

        Assert.Equal(HttpStatusCode.Forbidden, (await Picture.Of("office").SendAsync(organisation.Office)).Status);
        ApiClient status = organisation.Office.With(await organisation.MakeKeyAsync("read-status"));
        Assert.Equal(HttpStatusCode.Forbidden, (await status.GetAsync(picture.Path)).Status);
        Assert.Equal(HttpStatusCode.Forbidden, (await status.SendAsync(HttpMethod.Head, picture.Path)).Status);
        Assert.Equal(HttpStatusCode.Unauthorized, (await service.Anybody.SendAsync(HttpMethod.Head, picture.Path)).Status);
        Organisation foreign = await service.AddOrganisationAsync();
        Assert.Equal(HttpStatusCode.NotFound, (await foreign.Office.GetAsync(picture.Path)).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await foreign.Office.SendAsync(HttpMethod.Head, picture.Path)).Status);
    }

    // Sends the head and the beginning of a picture, and no more until it is ended. One that finds no place, because the test was just
    // looking whether there is one, comes again, as a device does.
    private async Task HalfAsync(Device device, Picture picture, CancellationToken end)
    {
        while (!end.IsCancellationRequested) await HalfOnceAsync(device, picture, end).ConfigureAwait(ConfigureAwaitOptions.SuppressThrowing);
    }

    // Until it is ended or answered.
    private async Task HalfOnceAsync(Device device, Picture picture, CancellationToken end)
    {
        Uri address = service.Running.Address;
        using TcpClient connection = new();
        await connection.ConnectAsync(address.Host, address.Port, CancellationToken.None);
        await using NetworkStream stream = connection.GetStream();
        await stream.WriteAsync(Encoding.ASCII.GetBytes(
            $"PUT {picture.Path} HTTP/1.1\r\nHost: {address.Authority}\r\nAuthorization: Bearer {device.Api.Key}\r\n"
            + $"Content-Type: image/png\r\nContent-Length: {picture.Bytes.Length}\r\n\r\n"), CancellationToken.None);
        await stream.WriteAsync(picture.Bytes.AsMemory(0, 10), CancellationToken.None);
        using StreamReader answer = new(stream, Encoding.ASCII);
        await answer.ReadLineAsync(end);
    }

    private async Task<Device> DeviceAsync() => await (await service.AddOrganisationAsync()).AddDeviceAsync();

    private static void AssertProblem(Answer answer, HttpStatusCode status, string type)
    {
        Assert.Equal((status, ProblemMedia.Type), (answer.Status, answer.MediaType));
        Problem problem = answer.As<Problem>();
        Assert.Equal(type, problem.Type);
        Assert.NotNull(problem.Remedy);
    }

    // Of which nobody knows the length beforehand.
    private sealed class Unseekable(byte[] bytes) : MemoryStream(bytes)
    {
        public override bool CanSeek => false;
    }
}

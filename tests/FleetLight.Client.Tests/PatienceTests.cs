using System.Net;
using FleetLight.Contracts.Wire;
using Microsoft.Extensions.Time.Testing;

namespace FleetLight.Client.Tests;

public class PatienceTests
{
    private const string Receipt = """{"source":"/devices/a","completeThrough":3,"highest":3,"missing":[],"newer":"member"}""";

    private const string Batch =
        """{"receipt":{"source":"/devices/a","completeThrough":0,"highest":0,"missing":[]},"outcomes":[],"recorded":0,"duplicates":0,"refused":0}""";

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData(408)]
    [InlineData(429)]
    [InlineData(500)]
    [InlineData(502)]
    [InlineData(503)]
    [InlineData(504)]
    public async Task What_may_pass_is_tried_again(int status)
    {
        var service = new FakeService((turn, _) => turn < 3 ? FakeService.Text("", "text/plain", (HttpStatusCode)status) : FakeService.Json(Receipt));
        Assert.Equal(3, (await service.Client().Device.ReceiptAsync(Cancel)).Highest);
        Assert.Equal(3, service.Requests.Count);
    }

    [Fact]
    public async Task What_does_not_pass_is_told_at_once_with_its_problem()
    {
        var service = new FakeService((_, _) => FakeService.Text(
            """{"type":"urn:fleetlight:problem:scope-missing","title":"The key does not allow this","detail":"d","field":"Authorization","remedy":"r"}""",
            ProblemMedia.Type, HttpStatusCode.Forbidden));
        var problem = await Assert.ThrowsAsync<ProblemException>(() => service.Client().Device.ReceiptAsync(Cancel));
        Assert.Equal((ProblemTypes.ScopeMissing, 403, false, "Authorization"), (problem.Problem.Type, problem.Status, problem.IsPassing, problem.Problem.Field));
        Assert.Single(service.Requests);
        Assert.DoesNotContain("secret", problem.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Nothing_is_tried_before_the_time_that_the_service_asks_for_and_each_try_shows_the_clock_anew()
    {
        var clock = new FakeTimeProvider(DateTimeOffset.UnixEpoch.AddYears(56));
        var service = new FakeService((turn, _) => turn == 1 ? FakeService.Busy(HttpStatusCode.ServiceUnavailable, 7) : FakeService.Json(Batch));
        var handing = service.Client(clock).Device.HandInAsync("[]"u8.ToArray(), Cancel);
        while (service.Requests.IsEmpty) await Task.Delay(5, Cancel);
        for (var second = 0; second < 6; second++) clock.Advance(TimeSpan.FromSeconds(1));
        await Task.Delay(100, Cancel);
        Assert.Single(service.Requests);
        while (!handing.IsCompleted)
        {
            clock.Advance(TimeSpan.FromSeconds(1));
            await Task.Delay(5, Cancel);
        }

        await handing;
        var clocks = service.Requests.Select(request => DateTimeOffset.Parse(request.Clock!, System.Globalization.CultureInfo.InvariantCulture)).ToArray();
        Assert.True(clocks[1] - clocks[0] >= TimeSpan.FromSeconds(7), $"{clocks[1] - clocks[0]}");
    }

    [Fact]
    public async Task A_longer_wait_than_one_call_may_take_is_left_to_the_caller()
    {
        var service = new FakeService((_, _) => FakeService.Busy(HttpStatusCode.TooManyRequests, 600));
        var busy = await Assert.ThrowsAsync<ProblemException>(() => service.Client().Device.ReceiptAsync(Cancel));
        Assert.Equal((TimeSpan.FromSeconds(600), true, 1), (busy.RetryAfter, busy.IsPassing, service.Requests.Count));
    }

    [Theory]
    [InlineData("<html>Room number</html>", "text/html")]
    [InlineData("null", "application/json")]
    [InlineData("{\"source\":1}", "application/json")]
    [InlineData("{\"source\":\"a\"}", "application/json")]
    [InlineData("{\"source\"", "application/json")]
    public async Task What_is_no_answer_of_the_contract_is_not_believed(string text, string type)
    {
        var service = new FakeService((_, _) => FakeService.Text(text, type));
        Assert.True((await Assert.ThrowsAsync<UnreadableAnswerException>(() => service.Client().Device.ReceiptAsync(Cancel))).IsPassing);
        Assert.Equal(4, service.Requests.Count);
    }

    [Fact]
    public async Task A_page_of_a_gateway_becomes_a_problem_without_a_name()
    {
        var service = new FakeService((_, _) => FakeService.Text("<html>Bad gateway</html>", "text/html", HttpStatusCode.BadGateway));
        Assert.Equal("about:blank", (await Assert.ThrowsAsync<ProblemException>(() => service.Client(retries: 0).Device.ReceiptAsync(Cancel))).Problem.Type);
    }

    [Fact]
    public async Task A_try_ends_after_its_time_and_the_body_counts_too()
    {
        var service = new FakeService(async (_, _, cancel) =>
        {
            await Task.Delay(Timeout.Infinite, cancel);
            return FakeService.Json(Receipt);
        });
        var late = await Assert.ThrowsAsync<ServiceUnreachableException>(() => service.Client(retries: 1, tryMilliseconds: 50).Device.ReceiptAsync(Cancel));
        Assert.Equal((UnreachableReason.TimedOut, 2), (late.Reason, service.Requests.Count));
    }

    [Fact]
    public async Task After_many_failures_nothing_is_tried_for_a_while()
    {
        var clock = new FakeTimeProvider(DateTimeOffset.UnixEpoch.AddYears(56));
        var works = false;
        var service = new FakeService((_, _) => works ? FakeService.Json(Receipt) : throw new HttpRequestException(HttpRequestError.ConnectionError, "refused"));
        var client = service.Client(clock, retries: 0, triesBeforeStop: 4);
        for (var turn = 0; turn < 4; turn++)
            Assert.Equal(UnreachableReason.NoConnection, (await Assert.ThrowsAsync<ServiceUnreachableException>(() => client.Device.ReceiptAsync(Cancel))).Reason);
        works = true;
        var stopped = await Assert.ThrowsAsync<ServiceUnreachableException>(() => client.Device.ReceiptAsync(Cancel));
        Assert.Equal((UnreachableReason.Stopped, 4), (stopped.Reason, service.Requests.Count));
        Assert.NotNull(stopped.RetryAfter);
        clock.Advance(TimeSpan.FromSeconds(16));
        Assert.Equal(3, (await client.Device.ReceiptAsync(Cancel)).Highest);
    }

    [Fact]
    public async Task A_code_is_not_given_twice_where_the_first_time_may_have_been_heard()
    {
        var cut = new FakeService((_, _) => throw new HttpRequestException(HttpRequestError.ResponseEnded, "cut"));
        await Assert.ThrowsAsync<ServiceUnreachableException>(() => cut.Client().Enrolment.ExchangeAsync("ABCD", cancel: Cancel));
        Assert.Single(cut.Requests);
        Assert.Null(cut.Requests.Single().Key);
        var never = new FakeService((_, _) => throw new HttpRequestException(HttpRequestError.ConnectionError, "refused"));
        await Assert.ThrowsAsync<ServiceUnreachableException>(() => never.Client().Enrolment.ExchangeAsync("ABCD", cancel: Cancel));
        Assert.Equal(4, never.Requests.Count);
    }

    [Fact]
    public async Task A_call_that_is_cancelled_says_so()
    {
        using var end = new CancellationTokenSource();
        var service = new FakeService(async (_, _, cancel) =>
        {
            await end.CancelAsync();
            await Task.Delay(Timeout.Infinite, cancel);
            return FakeService.Json(Receipt);
        });
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => service.Client().Device.ReceiptAsync(end.Token));
        Assert.Single(service.Requests);
    }

    [Fact]
    public void No_text_of_a_key_holds_the_key()
    {
        Assert.DoesNotContain("secret", new Devices.EnrolledKey { Key = "id.secret", KeyId = "id", Source = "/devices/a" }.ToString(), StringComparison.Ordinal);
        Assert.DoesNotContain("secret", new Devices.RotatedKey { Key = "id.secret", KeyId = "id" }.ToString(), StringComparison.Ordinal);
    }
}

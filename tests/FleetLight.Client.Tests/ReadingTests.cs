using System.Net;
using FleetLight.Client.Reading;
using FleetLight.Contracts.Views;

namespace FleetLight.Client.Tests;

public class ReadingTests
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    private static string Change(int number) =>
        $$"""
        id: {{number}}
        event: change
        data: {"cursor":"{{number}}","kind":"circuit","id":"k{{number}}","siteId":"s1"}


        """;

    [Fact]
    public async Task A_list_is_followed_from_page_to_page()
    {
        var service = new FakeService((turn, _) => FakeService.Json(turn == 1 ? $$"""{"items":[{{Line("a")}}],"next":"x y"}""" : $$"""{"items":[{{Line("b")}}]}"""));
        var ids = new List<string>();
        await foreach (var line in service.Client().Status.CircuitsAsync("s 1", Cancel)) ids.Add(line.Id);
        Assert.Equal(["a", "b"], ids);
        Assert.Equal(["GET /v1/circuits?site=s%201", "GET /v1/circuits?site=s%201&cursor=x%20y"], service.Requests.Select(request => request.Line));

        static string Line(string id) => $$"""{"id":"{{id}}","phase":"named","verdict":"unread","rules":[]}""";
    }

    [Fact]
    public async Task A_stream_goes_on_after_the_last_change_whatever_breaks_it()
    {
        var service = new FakeService((turn, request) => turn switch
        {
            1 => FakeService.Json("""{"items":[],"next":"5"}"""),
            2 => FakeService.Text("event: still-there\ndata: {}\n\n" + Change(6) + Change(7) + "id: 8\nevent: change\ndata: {\"curs", "text/event-stream"),
            3 => throw new HttpRequestException(HttpRequestError.ConnectionError, "refused"),
            4 => FakeService.Text("", "text/plain", HttpStatusCode.BadGateway),
            _ => FakeService.Text(Change(8), "text/event-stream"),
        });
        var seen = new List<string>();
        await foreach (var change in service.Client(retries: 0).Changes.FollowAsync(ChangeApi.Now, Cancel))
        {
            seen.Add(change.Id);
            if (seen.Count == 3) break;
        }

        Assert.Equal(["k6", "k7", "k8"], seen);
        Assert.Equal(["5", "7", "7", "7"], service.Requests.Skip(1).Select(request => request.LastEvent));
    }

    [Fact]
    public async Task A_stream_that_falls_silent_is_opened_anew()
    {
        var service = new FakeService((turn, _) => turn == 1
            ? new HttpResponseMessage { Content = new StreamContent(new SilentStream()) }
            : FakeService.Text(Change(1), "text/event-stream"));
        await foreach (var change in service.Client(retries: 0).Changes.FollowAsync(null, Cancel))
        {
            Assert.Equal("k1", change.Id);
            break;
        }

        Assert.Equal(2, service.Requests.Count);
    }

    [Fact]
    public async Task A_stream_that_is_not_allowed_ends_with_the_problem()
    {
        var service = new FakeService((_, _) => FakeService.Text("", "text/plain", HttpStatusCode.Unauthorized));
        await Assert.ThrowsAsync<ProblemException>(async () =>
        {
            await foreach (var _ in service.Client().Changes.FollowAsync(null, Cancel)) Assert.Fail("Nothing comes.");
        });
    }

    [Fact]
    public async Task A_picture_is_in_hand_or_not_and_goes_by_its_digest()
    {
        var missing = new FakeService((_, _) => FakeService.Text("", "application/problem+json", HttpStatusCode.NotFound));
        Assert.False(await missing.Client().Photos.IsInHandAsync("0a", Cancel));
        var there = new FakeService((_, _) => new HttpResponseMessage(HttpStatusCode.OK));
        Assert.True(await there.Client().Photos.IsInHandAsync("0a", Cancel));
        var taken = new FakeService((_, _) => FakeService.Json(
            """{"sha256":"ba7816bf","mediaType":"image/png","sizeBytes":3,"keptAt":"2026-03-04T17:30:00Z"}""", HttpStatusCode.Created));
        Assert.Equal(3, (await taken.Client().Photos.HandInAsync("abc"u8.ToArray(), "image/png", Cancel)).SizeBytes);
        // FIPS 180-4: the digest of "abc".
        Assert.Equal("PUT /v1/attachments/ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad", Assert.Single(taken.Requests).Line);
    }

    [Fact]
    public async Task Visits_are_asked_for_by_day_and_state_and_planned_once()
    {
        var service = new FakeService((turn, _) => turn == 1
            ? FakeService.Json("""{"items":[]}""")
            : FakeService.Text("", "text/plain", HttpStatusCode.BadGateway));
        await foreach (var _ in service.Client().Visits.ListAsync(new DateOnly(2026, 3, 4), site: "s 1", state: VisitState.CalledOff, cancel: Cancel))
            Assert.Fail("Nothing comes.");
        Assert.Equal("GET /v1/visits?from=2026-03-04&site=s%201&state=called-off", Assert.Single(service.Requests).Line);

        await Assert.ThrowsAsync<ProblemException>(() => service.Client().Visits.PlanAsync(new VisitRequest { Day = new DateOnly(2026, 3, 4), SiteId = "s" }, Cancel));
        Assert.Equal(2, service.Requests.Count);
    }

    [Fact]
    public async Task What_is_not_there_is_none_and_what_did_not_change_is_none()
    {
        var missing = new FakeService((_, _) => FakeService.Text(
            """{"type":"urn:fleetlight:problem:not-found","title":"Not found"}""", "application/problem+json", HttpStatusCode.NotFound));
        Assert.Null(await missing.Client().Status.CircuitAsync("k", Cancel));
        var same = new FakeService((_, _) => new HttpResponseMessage(HttpStatusCode.NotModified));
        Assert.Null(await same.Client().Status.CircuitIfChangedAsync("k", "\"t\"", Cancel));
    }

    // Nothing ever comes of it.
    private sealed class SilentStream : MemoryStream
    {
        public override async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken = default)
        {
            await Task.Delay(Timeout.Infinite, cancellationToken);
            return 0;
        }
    }
}

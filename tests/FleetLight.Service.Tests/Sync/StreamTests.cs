using System.Net;
using System.Net.ServerSentEvents;
using System.Text.Json;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Sync;

public sealed class StreamTests(FleetService service) : IClassFixture<FleetService>
{
    [Fact]
    public async Task A_reader_who_waits_receives_a_change_when_it_is_made()
    {
        (Organisation organisation, Device device) = await AddAsync();
        await using Stream stream = await Stream.OpenAsync(organisation.Office, "/v1/changes");

        await device.TellAsync(Some.SiteOpened());

        ChangeView change = await stream.NextAsync();
        Assert.Equal(("site", Some.Site), (change.Kind, change.Id));
        Assert.Equal(change.Cursor, stream.LastId);
    }

    [Fact]
    public async Task The_stream_begins_with_what_changed_after_its_cursor()
    {
        (Organisation organisation, Device device) = await AddAsync();
        await device.TellAsync(Some.SiteOpened("site-1"), Some.SiteOpened("site-2"), Some.SiteOpened("site-3"));
        await service.CaughtUpAsync();
        ChangeView[] all = [.. (await organisation.Office.ReadAsync<Page<ChangeView>>("/v1/changes")).Items];

        await using Stream stream = await Stream.OpenAsync(organisation.Office, $"/v1/changes?after={all[0].Cursor}");

        Assert.Equal([all[1], all[2]], [await stream.NextAsync(), await stream.NextAsync()]);
    }

    [Fact]
    public async Task Last_Event_ID_resumes_where_the_connection_was_lost()
    {
        (Organisation organisation, Device device) = await AddAsync();
        string seen;
        await using (Stream first = await Stream.OpenAsync(organisation.Office, "/v1/changes"))
        {
            await device.TellAsync(Some.SiteOpened("site-1"));
            await first.NextAsync();
            seen = first.LastId!;
        }

        await device.TellAsync(Some.SiteOpened("site-2"));
        await service.CaughtUpAsync();
        await using Stream second = await Stream.OpenAsync(organisation.Office, "/v1/changes", ("Last-Event-ID", seen));

        Assert.Equal("site-2", (await second.NextAsync()).Id);
    }

    [Fact]
    public async Task Last_Event_ID_counts_more_than_the_address_it_was_opened_with()
    {
        (Organisation organisation, Device device) = await AddAsync();
        await device.TellAsync(Some.SiteOpened("site-1"), Some.SiteOpened("site-2"));
        await service.CaughtUpAsync();
        ChangeView[] all = [.. (await organisation.Office.ReadAsync<Page<ChangeView>>("/v1/changes")).Items];

        await using Stream stream = await Stream.OpenAsync(organisation.Office, "/v1/changes?after=0-0", ("Last-Event-ID", all[0].Cursor));

        Assert.Equal(all[1], await stream.NextAsync());
    }

    [Fact]
    public async Task A_stream_from_now_on_shows_nothing_of_before()
    {
        (Organisation organisation, Device device) = await AddAsync();
        await device.TellAsync(Some.SiteOpened("before"));
        await service.CaughtUpAsync();
        await using Stream stream = await Stream.OpenAsync(organisation.Office, "/v1/changes?after=now");

        await device.TellAsync(Some.SiteOpened("after"));

        Assert.Equal("after", (await stream.NextAsync()).Id);
    }

    [Fact]
    public async Task A_stream_shows_nothing_of_another_organisation()
    {
        (Organisation organisation, Device device) = await AddAsync();
        (_, Device otherDevice) = await AddAsync();
        await using Stream stream = await Stream.OpenAsync(organisation.Office, "/v1/changes");

        await otherDevice.TellAsync(Some.SiteOpened("theirs"));
        await service.CaughtUpAsync();
        await device.TellAsync(Some.SiteOpened("ours"));

        Assert.Equal("ours", (await stream.NextAsync()).Id);
    }

    [Fact]
    public async Task Many_changes_come_in_one_piece_and_in_order()
    {
        (Organisation organisation, Device device) = await AddAsync();
        await using Stream stream = await Stream.OpenAsync(organisation.Office, "/v1/changes");

        await device.SendAsync([.. Enumerable.Range(0, 700).Select(number => device.Record(Some.SiteOpened($"site-{number}")))]);
        List<string> cursors = [];
        while (cursors.Count < 700) cursors.Add((await stream.NextAsync()).Cursor);

        Page<ChangeView> feed = await organisation.Office.ReadAsync<Page<ChangeView>>("/v1/changes?limit=1000");
        Assert.Equal(feed.Items.Select(change => change.Cursor), cursors);
    }

    [Fact]
    public async Task A_stream_is_told_of_what_a_second_node_projected()
    {
        (Organisation organisation, Device device) = await AddAsync();
        await using RunningService second = await service.StartSecondAsync();
        await using Stream here = await Stream.OpenAsync(organisation.Office, "/v1/changes");
        await using Stream there = await Stream.OpenAsync(second.Api.With(organisation.Office.Key), "/v1/changes");

        await device.TellAsync(Some.SiteOpened());

        Assert.Equal((await here.NextAsync()).Cursor, (await there.NextAsync()).Cursor);
    }

    [Fact]
    public async Task The_end_of_the_service_ends_a_stream_that_waits()
    {
        (Organisation organisation, _) = await AddAsync();
        RunningService second = await service.StartSecondAsync();
        await using Stream stream = await Stream.OpenAsync(second.Api.With(organisation.Office.Key), "/v1/changes");

        Task ending = second.StopAsync();

        Assert.False(await stream.MoveAsync());
        await ending;
        await second.DisposeAsync();
    }

    [Fact]
    public async Task A_stream_needs_a_key_too()
    {
        using HttpResponseMessage response = await service.Anybody.StartAsync(HttpMethod.Get, "/v1/changes", null, ("Accept", "text/event-stream"));

        Assert.Equal(HttpStatusCode.Unauthorized, response.StatusCode);
    }

    private async Task<(Organisation Organisation, Device Device)> AddAsync()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        return (organisation, await organisation.AddDeviceAsync());
    }

    // Reads changes from a stream of server-sent events; signs of life between them are passed over.
    private sealed class Stream : IAsyncDisposable
    {
        private readonly HttpResponseMessage response;
        private readonly IAsyncEnumerator<SseItem<string>> items;

        private Stream(HttpResponseMessage response, System.IO.Stream body)
        {
            this.response = response;
            items = SseParser.Create(body).EnumerateAsync().GetAsyncEnumerator();
        }

        public string? LastId { get; private set; }

        public static async Task<Stream> OpenAsync(ApiClient api, string path, params (string Name, string Value)[] headers)
        {
            HttpResponseMessage response = await api.StartAsync(HttpMethod.Get, path, null, [("Accept", "text/event-stream"), .. headers]);
            Assert.Equal((HttpStatusCode.OK, "text/event-stream"), (response.StatusCode, response.Content.Headers.ContentType?.MediaType));
            return new Stream(response, await response.Content.ReadAsStreamAsync());
        }

        public async Task<ChangeView> NextAsync()
        {
            if (!await MoveAsync()) throw new InvalidOperationException("The stream ended.");
            return JsonSerializer.Deserialize<ChangeView>(items.Current.Data, WireJson.Lenient)!;
        }

        /// <summary>Moves to the next change; false where the stream has ended as an answer ends, not by a broken connection.</summary>
        public async Task<bool> MoveAsync()
        {
            while (await items.MoveNextAsync().AsTask().WaitAsync(Eventually.Deadline))
            {
                if (items.Current.EventType != "change") continue;
                LastId = items.Current.EventId;
                return true;
            }

            return false;
        }

        public async ValueTask DisposeAsync()
        {
            // Ending the answer ends a read that is still waiting.
            response.Dispose();
            try
            {
                await items.DisposeAsync();
            }
            catch (NotSupportedException)
            {
                // A read that waits cannot be ended from here; it has ended with the answer.
            }
        }
    }
}

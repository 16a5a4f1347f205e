using System.Net;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Service.Tests.Works;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Photos;

/// <summary>Photos: the fact first, the bytes later, and what corrections and joinings make of them.</summary>
public sealed class PhotoTests(FleetService service) : IClassFixture<FleetService>
{
    [Fact]
    public async Task A_photo_is_listed_before_its_bytes_come_and_shows_when_they_have()
    {
        Site site = await OpenAsync();
        Picture picture = Picture.Of("first");
        await site.TellAsync(picture.Taken(caption: "Before the lid went on."));

        PhotoView waiting = Assert.Single(await ListAsync(site));
        Assert.False(waiting.InHand);
        Assert.Equal(("Before the lid went on.", site.Device.Source, picture.Sha256), (waiting.Caption, waiting.Source, waiting.Sha256));
        Assert.Equal(HttpStatusCode.NotFound, (await site.Organisation.Office.GetAsync(picture.Path)).Status);

        Answer sent = await picture.SendAsync(site.Device.Api);

        Assert.Equal(HttpStatusCode.Created, sent.Status);
        Assert.Equal(picture.Bytes.Length, sent.As<AttachmentView>().SizeBytes);
        PhotoView shown = Assert.Single(await ListAsync(site));
        Assert.True(shown.InHand);
        Assert.Equal(service.Clock.Now, shown.InHandSince);
        Assert.Contains((await site.BoxAsync()).Facts, fact => fact.Type == "fleetlight.photo.taken.v1");
    }

    [Fact]
    public async Task The_bytes_are_given_back_as_they_came_to_be_kept_and_never_sniffed()
    {
        Site site = await OpenAsync();
        Picture picture = Picture.Of("bytes", 100_000);
        await picture.SendAsync(site.Device.Api);

        using HttpResponseMessage got = await site.Organisation.Office.StartAsync(HttpMethod.Get, picture.Path);
        Assert.Equal(picture.Bytes, await got.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken));
        Assert.Equal("image/png", got.Content.Headers.ContentType!.MediaType);
        Assert.StartsWith("inline", got.Content.Headers.ContentDisposition!.ToString(), StringComparison.Ordinal);
        Assert.Equal("private, max-age=31536000, immutable", Ordered(got.Headers.CacheControl!.ToString()));
        Assert.Equal("nosniff", got.Headers.GetValues("X-Content-Type-Options").Single());
        Assert.Equal($"\"{picture.Sha256}\"", got.Headers.ETag!.Tag);

        using HttpResponseMessage head = await site.Organisation.Office.StartAsync(HttpMethod.Head, picture.Path);
        Assert.Equal(HttpStatusCode.OK, head.StatusCode);
        Assert.Equal(picture.Bytes.Length, head.Content.Headers.ContentLength);
        Assert.Empty(await head.Content.ReadAsByteArrayAsync(TestContext.Current.CancellationToken));

        Assert.Equal(HttpStatusCode.NotModified, (await site.Organisation.Office.GetAsync(picture.Path, ("If-None-Match", $"\"{picture.Sha256}\""))).Status);
        using HttpResponseMessage none = await site.Organisation.Office.StartAsync(HttpMethod.Head, Picture.Of("never sent").Path);
        Assert.Equal(HttpStatusCode.NotFound, none.StatusCode);
    }

    [Fact]
    public async Task Sent_again_a_picture_is_known_and_told_once()
    {
        Site site = await OpenAsync();
        Picture picture = Picture.Of("again");

        Answer[] both = await Task.WhenAll(picture.SendAsync(site.Device.Api), picture.SendAsync(site.Device.Api));
        Answer third = await picture.SendAsync(site.Device.Api);
        await service.CaughtUpAsync();

        Assert.Equal([HttpStatusCode.OK, HttpStatusCode.Created], both.Select(answer => answer.Status).Order());
        Assert.Equal(HttpStatusCode.OK, third.Status);
        Page<ChangeView> changes = await site.Organisation.Office.ReadAsync<Page<ChangeView>>("/v1/changes?limit=1000");
        Assert.Equal(picture.Sha256, Assert.Single(changes.Items, change => change.Kind == "attachment").Id);
    }

    [Fact]
    public async Task The_newest_photo_comes_first_page_by_page_and_filtered()
    {
        Site site = await OpenAsync();
        Picture[] pictures = [.. Enumerable.Range(1, 5).Select(number => Picture.Of($"number {number}"))];
        foreach ((int index, Picture picture) in pictures.Index())
            await site.Device.TellAsync(Device.Began.AddHours(index), picture.Taken(box: index == 2 ? "box-2" : Some.Box));
        await site.TellAsync(Facts.PhotoTaken(ThingKind.Duct, Some.Box, pictures[0].Sha256, siteId: "site-2"));

        List<PhotoView> paged = await Pages.AllAsync<PhotoView>(site.Organisation.Office, "/v1/photos?site=site-1&kind=box&limit=2", 3);
        Assert.Equal(pictures.Reverse().Select(picture => picture.Sha256), paged.Select(photo => photo.Sha256));
        Assert.Equal([4, 3, 1, 0], (await ListAsync(site)).Select(photo => Array.FindIndex(pictures, picture => picture.Sha256 == photo.Sha256)));
        Assert.Equal(6, (await site.Organisation.Office.ReadAsync<Page<PhotoView>>("/v1/photos")).Items.Count);
        Assert.Equal(ThingKind.Duct, Assert.Single((await site.Organisation.Office.ReadAsync<Page<PhotoView>>("/v1/photos?site=site-2")).Items).Kind);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Withdrawn_a_photo_leaves_the_list_whichever_comes_first_and_its_bytes_stay(bool withdrawalFirst)
    {
        Site site = await OpenAsync();
        Picture picture = Picture.Of("withdrawn");
        await picture.SendAsync(site.Device.Api);
        SentEvent taken = site.Device.Record(picture.Taken(), id: "photo");
        SentEvent withdrawn = site.Device.Record(Correct.Withdraw("photo", picture.Taken()), id: "withdrawal");
        foreach (SentEvent sent in withdrawalFirst ? (SentEvent[])[withdrawn, taken] : [taken, withdrawn])
        {
            await site.Device.SendAsync(sent);
            await service.CaughtUpAsync();
        }

        Assert.Empty(await ListAsync(site));
        Assert.Equal(HttpStatusCode.OK, (await site.Organisation.Office.GetAsync(picture.Path)).Status);
    }

    [Fact]
    public async Task Replaced_a_photo_shows_the_thing_that_it_shows_now()
    {
        Site site = await OpenAsync();
        Picture picture = Picture.Of("replaced");
        await site.Device.SendAsync(site.Device.Record(picture.Taken(), id: "slip"));
        await site.TellAsync(Correct.Replace("slip", picture.Taken(box: "box-2", caption: "The other box.")));

        Assert.Empty(await ListAsync(site));
        Assert.Equal("The other box.", Assert.Single(await ListAsync(site, "box-2")).Caption);

        await site.TellAsync(Correct.Withdraw("slip", picture.Taken()));
        Assert.Empty(await ListAsync(site, "box-2"));
    }

    [Fact]
    public async Task Photos_of_joined_ids_are_photos_of_one_thing_as_long_as_the_joining_counts()
    {
        Site site = await OpenAsync();
        await site.TellAsync(Picture.Of("one").Taken(), Picture.Of("two").Taken(box: "box-2"));
        await site.Device.SendAsync(site.Device.Record(Facts.Joined(ThingKind.Box, Some.Box, "box-2"), id: "joining"));
        await service.CaughtUpAsync();

        Assert.Equal(2, (await ListAsync(site)).Count);
        Assert.Equal(2, (await ListAsync(site, "box-2")).Count);

        await site.TellAsync(Correct.Withdraw("joining", Facts.Joined(ThingKind.Box, Some.Box, "box-2")));

        Assert.Single(await ListAsync(site));
        Assert.Single(await ListAsync(site, "box-2"));
    }

    [Fact]
    public async Task A_photo_of_a_site_names_the_site_itself()
    {
        Site site = await OpenAsync();
        PhotoTaken photo = Facts.PhotoTaken(ThingKind.Site, Some.Site, Picture.Of("site").Sha256);
        await site.TellAsync(photo);

        Assert.Equal(1, (await site.Device.SendAsync(site.Device.Record(photo with { ThingId = "another" }))).Refused);
        Assert.Single((await site.Organisation.Office.ReadAsync<Page<PhotoView>>($"/v1/photos?kind=site&thing={Some.Site}")).Items);
    }

    private static string Ordered(string cacheControl) =>
        string.Join(", ", cacheControl.Split(", ").OrderBy(part => Array.IndexOf(["private", "max-age=31536000", "immutable"], part)));

    private static async Task<IReadOnlyList<PhotoView>> ListAsync(Site site, string box = Some.Box) =>
        (await site.Organisation.Office.ReadAsync<Page<PhotoView>>($"/v1/photos?site={Some.Site}&kind=box&thing={box}")).Items;

    private async Task<Site> OpenAsync()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Site site = new(service, organisation, await organisation.AddDeviceAsync());
        await site.TellAsync(Some.SiteOpened(), Some.BoxSealed());
        return site;
    }
}

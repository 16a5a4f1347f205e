using System.Net;
using FleetLight.Service.Access;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Access;

public sealed class RotationTests(FleetService service) : IClassFixture<FleetService>
{
    [Fact]
    public async Task The_old_key_ends_when_the_new_one_is_first_used()
    {
        Device device = await (await service.AddOrganisationAsync()).AddDeviceAsync();
        await device.TellAsync(Some.SiteOpened());

        RotatedKey rotated = (await device.Api.PostAsync("/v1/keys/self/rotate")).Expect(HttpStatusCode.Created).As<RotatedKey>();
        await device.TellAsync(Some.DuctLaid());
        ApiClient renewed = service.Anybody.With(rotated.Key);
        Assert.Equal(2, (await new Device(renewed, device.Source).ReceiptAsync()).CompleteThrough);

        Assert.Equal(HttpStatusCode.Unauthorized, (await device.Api.GetAsync("/v1/devices/self/receipts")).Status);
        Assert.Equal(HttpStatusCode.OK, (await renewed.GetAsync("/v1/devices/self/receipts")).Status);
    }

    [Fact]
    public async Task Asked_for_twice_only_the_newest_new_key_is_in_force()
    {
        ApiClient old = service.Anybody.With(await (await service.AddOrganisationAsync()).MakeKeyAsync("read-status"));

        string lost = (await old.PostAsync("/v1/keys/self/rotate")).As<RotatedKey>().Key;
        string kept = (await old.PostAsync("/v1/keys/self/rotate")).As<RotatedKey>().Key;

        Assert.Equal(HttpStatusCode.Unauthorized, (await service.Anybody.With(lost).GetAsync("/v1/circuits")).Status);
        Assert.Equal(HttpStatusCode.OK, (await old.GetAsync("/v1/circuits")).Status);
        Assert.Equal(HttpStatusCode.OK, (await service.Anybody.With(kept).GetAsync("/v1/circuits")).Status);
    }

    [Fact]
    public async Task Revoking_a_key_takes_its_unused_new_key_with_it()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        ApiClient old = service.Anybody.With(await organisation.MakeKeyAsync("read-status"));
        string next = (await old.PostAsync("/v1/keys/self/rotate")).As<RotatedKey>().Key;

        await organisation.Office.DeleteAsync($"/v1/keys/{old.Key!.Split('.')[0]}");

        Assert.Equal(HttpStatusCode.Unauthorized, (await service.Anybody.With(next).GetAsync("/v1/circuits")).Status);
    }

    [Fact]
    public async Task The_first_key_keeps_its_right_over_organisations()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Answer made = await service.Host.PostAsync("/v1/keys", new { name = "host", scopes = (string[])["administer"] });
        Assert.False((await service.Anybody.With(made.As<KeyView>().Key).PostAsync(
            "/v1/keys", new { name = "x", scopes = (string[])["read-status"], organisation = organisation.Name })).Status == HttpStatusCode.Created);
        await service.QueryAsync<string>(
            "update fleetlight.mt_doc_keyrecord set data = data || '{\"host\":true}' where id = $1 returning id", made.As<KeyView>().Id);
        ApiClient second = service.Anybody.With(made.As<KeyView>().Key);

        await Eventually.IsSoAsync(async () => (await second.PostAsync(
            "/v1/keys", new { name = "x", scopes = (string[])["read-status"], organisation = organisation.Name })).Status == HttpStatusCode.Created,
            "the key to be looked up again");
        string next = (await second.PostAsync("/v1/keys/self/rotate")).As<RotatedKey>().Key;

        Assert.Equal(HttpStatusCode.Created, (await service.Anybody.With(next).PostAsync(
            "/v1/keys", new { name = "x", scopes = (string[])["read-status"], organisation = organisation.Name })).Status);
    }

    [Fact]
    public async Task Revoked_while_it_rotates_a_key_never_comes_back()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        for (int round = 0; round < 5; round++)
        {
            ApiClient old = service.Anybody.With(await organisation.MakeKeyAsync("read-status"));
            Task<Answer>[] rotating = [.. Enumerable.Range(0, 4).Select(_ => old.PostAsync("/v1/keys/self/rotate"))];
            await organisation.Office.DeleteAsync($"/v1/keys/{old.Key!.Split('.')[0]}");
            Answer[] answers = await Task.WhenAll(rotating);

            Assert.Equal(HttpStatusCode.Unauthorized, (await old.GetAsync("/v1/circuits")).Status);
            Assert.All(answers, answer => Assert.True(answer.Status is HttpStatusCode.Created or HttpStatusCode.Unauthorized, answer.Text));
            foreach (Answer answer in answers.Where(each => each.Status == HttpStatusCode.Created))
                Assert.Equal(HttpStatusCode.Unauthorized, (await service.Anybody.With(answer.As<RotatedKey>().Key).GetAsync("/v1/circuits")).Status);
        }
    }
}

using System.Net;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.OpenData.Tests.Gis;

[Collection<OpenServices>]
public sealed class ManyPackagesTests(OpenService service)
{
    // More than are kept.
    private const int Sites = 24;

    [Fact]
    public async Task Whoever_waits_for_a_package_gets_it_however_many_are_asked_for()
    {
        Organisation own = await Organisation.CreateAsync(service.Host);
        Device device = await own.AddDeviceAsync();
        await device.TellAsync([.. Enumerable.Range(0, Sites).Select(number => Facts.SiteOpened($"s{number}"))]);
        foreach (int number in Enumerable.Range(0, Sites))
            await Eventually.IsSoAsync(async () => (await own.Office.GetAsync($"/v1/sites/s{number}")).Status == HttpStatusCode.OK, "the sites to be there");

        Answer[] answers = await Task.WhenAll(Enumerable.Range(0, 3 * Sites).Select(number => own.Office.GetAsync($"/ogc/geopackage?site=s{number % Sites}")));

        Assert.All(answers, answer => Assert.Equal(HttpStatusCode.OK, answer.Status));
    }
}

using System.Net;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.OpenData.Tests.Gis;

[Collection<OpenServices>]
public sealed class WhileFactsComeTests(OpenService service)
{
    [Fact]
    public async Task Whoever_asks_waits_for_what_was_there_then_and_not_for_what_comes_meanwhile()
    {
        Organisation own = await Organisation.CreateAsync(service.Host);
        Device reader = await own.AddDeviceAsync();
        await reader.TellAsync(Facts.SiteOpened("s"), Facts.DuctLaid("first", siteId: "s"));
        Device writer = await own.AddDeviceAsync();
        using CancellationTokenSource end = new();
        int laid = 0;
        Task writing = Task.Run(
            async () =>
            {
                while (!end.IsCancellationRequested)
                    await writer.TellAsync([.. Enumerable.Range(0, 20).Select(_ => Facts.DuctLaid($"duct-{Interlocked.Increment(ref laid)}", siteId: "s"))]);
            },
            CancellationToken.None);

        for (int asked = 0; asked < 20; asked++)
        {
            int before = laid;
            (await own.Office.GetAsync("/ogc/collections/ducts/items?limit=1")).Expect(HttpStatusCode.OK);
            await Eventually.IsSoAsync(() => laid > before, "more facts to come");
        }

        await end.CancelAsync();
        await writing;
    }
}

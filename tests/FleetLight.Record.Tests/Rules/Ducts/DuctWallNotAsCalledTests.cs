using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Record.Rules.Ducts;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Ducts;

/// <summary>The site says what it calls for.</summary>
public sealed class DuctWallNotAsCalledTests
{
    [Fact]
    public void Another_wall_than_called_for_is_found_until_the_call_changes()
    {
        var calls = new DuctCall { Service = DuctService.MainsSupply, Wall = DuctWall.TwinWall };
        var job = Job.Of(
            Facts.SiteOpened(calls: [calls]),
            Facts.DuctLaid(service: DuctService.MainsSupply, wall: DuctWall.SingleWallCorrugated));
        job.Finds(DuctWallNotAsCalled.Rule);

        job.Tells(Facts.SiteOpened(calls: [calls with { Wall = DuctWall.SingleWallCorrugated }]))
            .FindsNothing(DuctWallNotAsCalled.Rule);
    }

    [Fact]
    public void Where_nothing_is_called_for_any_wall_will_do()
    {
        Job.Of(Facts.SiteOpened(), Facts.DuctLaid(wall: DuctWall.SmoothFlexible)).FindsNothing(DuctWallNotAsCalled.Rule);
    }
}

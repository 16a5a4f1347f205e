using FleetLight.Contracts;
using FleetLight.Record.Rules.Circuits;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Circuits;

/// <summary>IEC 61008 and IEC 61009.</summary>
public sealed class TripTimeOutsideTests
{
    [Theory]
    [InlineData(300, 1.0, null, false)]
    [InlineData(301, 1.0, null, true)]
    [InlineData(40, 5.0, null, false)]
    [InlineData(41, 5.0, null, true)]
    [InlineData(500, 1.0, ResidualCurrentDeviceType.Selective, false)]
    [InlineData(501, 1.0, ResidualCurrentDeviceType.Selective, true)]
    [InlineData(150, 5.0, ResidualCurrentDeviceType.Selective, false)]
    [InlineData(151, 5.0, ResidualCurrentDeviceType.Selective, true)]
    [InlineData(999, 0.5, null, false)]
    public void A_device_slower_than_its_type_allows_is_found(
        double milliseconds, double multiple, ResidualCurrentDeviceType? type, bool found)
    {
        var job = Job.Of(CircuitFacts.TripTime(milliseconds, multiple, type));

        if (found) job.Finds(TripTimeOutside.Rule, "mains-side");
        else job.FindsNothing(TripTimeOutside.Rule);
    }

}

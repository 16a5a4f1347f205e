using System.Globalization;
using System.Text.RegularExpressions;
using Xunit;

namespace FleetLight.Deploy.Tests.Files;

/// <summary>The service's systemd unit, judged by systemd's own tool.</summary>
public sealed partial class SystemdTests
{
    [Fact]
    public async Task The_unit_is_understood_and_leaves_the_service_few_rights()
    {
        string tool = Tool.Need("systemd-analyze", "systemd");
        // The program is not installed where the tests run; another stands in for it.
        string unit = Path.Combine(Path.GetTempPath(), $"fleetlight-{Guid.NewGuid():N}.service");
        await File.WriteAllTextAsync(
            unit, Repository.Read("deploy/systemd/fleetlight.service").Replace("/opt/fleetlight/FleetLight.Service", "/bin/true", StringComparison.Ordinal),
            TestContext.Current.CancellationToken);

        Ended verified = await Tool.RunAsync(tool, "verify", unit);
        Ended judged = await Tool.RunAsync(tool, "security", "--offline=true", "--no-pager", unit);
        File.Delete(unit);

        Assert.Equal((0, ""), (verified.Code, verified.Output + verified.Errors));
        double exposure = double.Parse(Exposure().Match(judged.Output).Groups[1].Value, CultureInfo.InvariantCulture);
        Assert.InRange(exposure, 0, 2);
    }

    // Of 0 to 10, as the tool weighs it.
    [GeneratedRegex("Overall exposure level for .*: ([0-9.]+)")]
    private static partial Regex Exposure();
}

using FleetLight.Contracts.Facts;
using FleetLight.Record.Files;

namespace FleetLight.Record.Checks.Across;

/// <summary>What a site calls for.</summary>
internal static class SiteRules
{
    public static void Check(SiteOpened site, CheckRun run)
    {
        var calls = site.DuctCalls ?? [];
        Repeats.Check(
            calls,
            call => Words.Of(call.Service),
            "ductCalls",
            "service",
            "Call for each service once.",
            run);
    }
}

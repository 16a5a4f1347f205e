using FleetLight.Contracts;
using FleetLight.Contracts.Facts;

namespace FleetLight.Record.Checks.Across;

/// <summary>Photos.</summary>
internal static class PhotoRules
{
    public static void Check(PhotoTaken photo, CheckRun run)
    {
        if (photo.Kind == ThingKind.Site && photo.ThingId != photo.SiteId)
            run.Invalid("thingId", "A photo of a site names another site.", "Give thingId the id of the site.");
    }
}

using FleetLight.Client;
using FleetLight.Office.Dossiers;

namespace FleetLight.Office.Sites;

/// <summary>The handover pack, of the day that the slider shows.</summary>
public sealed partial class SitePage
{
    private bool packing;
    private string? packSaid;

    // Made by the service of all facts; it takes some seconds for a large site, so the page says what it waits for.
    private async Task PackAsync(string format)
    {
        (packing, packSaid) = (true, $"Making the handover pack{(IsToday ? "" : $" as of {PageParts.SitePages.DayScale.Say(day)}")} …");
        try
        {
            var asOf = scale.AsOf(day) is { } end ? DateTimeOffset.Parse(end, System.Globalization.CultureInfo.InvariantCulture) : (DateTimeOffset?)null;
            var offset = (int)Zone.GetUtcOffset(asOf ?? Clock.GetUtcNow()).TotalMinutes;
            var file = await Session.Client.Planning.HandoverAsync(Id, format, asOf: asOf, offsetMinutes: offset, cancel: Left);
            await Hands.GiveAsync($"handover-{Id}-{day:yyyy-MM-dd}.{format}", file, format == "pdf" ? PageHands.Pdf : PageHands.Html);
            packSaid = null;
        }
        catch (FleetLightException failed)
        {
            packSaid = await Session.FailedAsync(failed);
        }
        finally
        {
            packing = false;
        }
    }
}

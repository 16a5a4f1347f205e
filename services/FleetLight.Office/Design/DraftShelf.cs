using FleetLight.Office.Shell.Keys;
using FleetLight.PageParts.Designing;
using Microsoft.JSInterop;

namespace FleetLight.Office.Design;

/// <summary>
/// Sheets that were not saved yet, in this browser: one for each circuit, or each site of a new design. Whoever opens the
/// page with a key of the same organisation in this browser finds them, of another none.
/// </summary>
public sealed class DraftShelf(IJSRuntime browser)
{
    private const string Beginning = "fleetlight-design:";

    /// <summary>The draft; none where there is none.</summary>
    public async Task<SheetDraft?> FindAsync(OfficeSession session, string? circuit, string? site) =>
        SheetDraft.Read(await browser.InvokeAsync<string?>("localStorage.getItem", Slot(session, circuit, site)));

    /// <summary>Keeps a draft; where the browser has no room for it, the sheet on the screen is all there is.</summary>
    public async Task<bool> KeepAsync(OfficeSession session, string? circuit, string? site, string draft)
    {
        try
        {
            await browser.InvokeVoidAsync("localStorage.setItem", Slot(session, circuit, site), draft);
            return true;
        }
        catch (JSException)
        {
            return false;
        }
    }

    /// <summary>Drops it.</summary>
    public async Task DropAsync(OfficeSession session, string? circuit, string? site) =>
        await browser.InvokeVoidAsync("localStorage.removeItem", Slot(session, circuit, site));

    private static string Slot(OfficeSession session, string? circuit, string? site) =>
        $"{Beginning}{session.Holder?.Organisation}:{(string.IsNullOrEmpty(circuit) ? $"new on {site}" : circuit)}";
}

using Microsoft.AspNetCore.Components;
using Microsoft.JSInterop;

namespace FleetLight.Office.Shell.Keys;

/// <summary>The key of this tab. It stands in the browser's memory of the tab and nowhere else.</summary>
public sealed class KeyStore(IJSRuntime browser, NavigationManager addresses)
{
    private const string Slot = "fleetlight-key";

    /// <summary>
    /// The key: one given in the address (<c>#key=…</c>) goes into the tab's memory and out of the address at once; else the one
    /// that the tab remembers.
    /// </summary>
    public async Task<string?> FindAsync()
    {
        var parts = addresses.Uri.Split('#', 2);
        if (parts.Length == 2 && Given(parts[1]) is { } given)
        {
            await KeepAsync(given);
            addresses.NavigateTo(parts[0], new NavigationOptions { ReplaceHistoryEntry = true });
            return given;
        }

        return await browser.InvokeAsync<string?>("sessionStorage.getItem", Slot);
    }

    /// <summary>Keeps a key until the tab is closed.</summary>
    public ValueTask KeepAsync(string key) => browser.InvokeVoidAsync("sessionStorage.setItem", Slot, key);

    /// <summary>Forgets it. Drafts stay for whoever opens the page with a key of the same organisation.</summary>
    public ValueTask ForgetAsync() => browser.InvokeVoidAsync("sessionStorage.removeItem", Slot);

    /// <summary>The key in what follows '#'; none where there is none.</summary>
    public static string? Given(string fragment)
    {
        foreach (var part in fragment.Split('&'))
            if (part.StartsWith("key=", StringComparison.Ordinal) && Uri.UnescapeDataString(part[4..]).Trim() is { Length: > 0 } key) return key;
        return null;
    }

    /// <summary>A key as it was pasted, without what often comes with it.</summary>
    public static string Clean(string text)
    {
        var key = text.Trim();
        return key.StartsWith("Bearer ", StringComparison.OrdinalIgnoreCase) ? key[7..].Trim() : key;
    }

    /// <summary>Whether it can be sent as a key at all: printable ASCII without blanks.</summary>
    public static bool CanBe(string key) => key.Length > 0 && key.All(letter => letter is > ' ' and <= '~');
}

using System.Text;
using Microsoft.JSInterop;

namespace FleetLight.Office.Dossiers;

/// <summary>What a page does with the browser beyond showing itself: hands out files, prints, moves the focus.</summary>
public sealed class PageHands(IJSRuntime browser)
{
    /// <summary>Media type of a table.</summary>
    public const string Csv = "text/csv;charset=utf-8";

    /// <summary>Media type of JSON.</summary>
    public const string Json = "application/json";

    /// <summary>Media type of a sheet to print.</summary>
    public const string Pdf = "application/pdf";

    /// <summary>Media type of a page that needs no other file.</summary>
    public const string Html = "text/html;charset=utf-8";

    private IJSObjectReference? module;

    /// <summary>Saves a file.</summary>
    /// <param name="name">What it is called.</param>
    /// <param name="text">What it says.</param>
    /// <param name="mediaType">Its media type.</param>
    public Task GiveAsync(string name, string text, string mediaType) => GiveAsync(name, Encoding.UTF8.GetBytes(text), mediaType);

    /// <summary>Saves a file.</summary>
    public async Task GiveAsync(string name, byte[] bytes, string mediaType) => await (await ModuleAsync()).InvokeVoidAsync("give", name, bytes, mediaType);

    /// <summary>Puts the keyboard onto the element with that id, where there is one.</summary>
    public async Task FocusAsync(string id) => await (await ModuleAsync()).InvokeVoidAsync("focus", id);

    /// <summary>Tells the feed each time the browser loses its network.</summary>
    public async Task TellOfflineAsync(DotNetObjectReference<Shell.Live.LiveFeed> feed) => await (await ModuleAsync()).InvokeVoidAsync("tellOffline", feed);

    /// <summary>Prints the page.</summary>
    public async Task PrintAsync() => await browser.InvokeVoidAsync("print");

    private async Task<IJSObjectReference> ModuleAsync() => module ??= await browser.InvokeAsync<IJSObjectReference>("import", "./hands.js");
}

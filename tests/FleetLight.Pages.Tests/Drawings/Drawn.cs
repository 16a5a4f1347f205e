using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.JSInterop;
using Microsoft.Playwright;

namespace FleetLight.Pages.Tests.Drawings;

/// <summary>Renders a drawing by itself into a page with the styles of the pages, so that it can be looked at and judged.</summary>
internal static class Drawn
{
    /// <summary>The markup of a component.</summary>
    public static async Task<string> MarkupAsync<T>(Dictionary<string, object?> parameters)
        where T : IComponent
    {
        await using var services = new ServiceCollection().AddSingleton<IJSRuntime, NoScripts>().BuildServiceProvider();
        await using var renderer = new HtmlRenderer(services, NullLoggerFactory.Instance);
        return await renderer.Dispatcher.InvokeAsync(async () => (await renderer.RenderComponentAsync<T>(ParameterView.FromDictionary(parameters))).ToHtmlString());
    }

    /// <summary>Opens the markup on a screen.</summary>
    public static async Task<IPage> OpenAsync(IBrowserContext window, params string[] markup)
    {
        var page = await window.NewPageAsync();
        await page.SetContentAsync(
            $"""
            <!DOCTYPE html><html lang="en"><head><title>Drawings</title><meta name="viewport" content="width=device-width, initial-scale=1" /><style>{Styles()}</style></head>
            <body><main style="padding: 1rem"><h1>Drawings</h1>{string.Join("<hr />", markup)}</main></body></html>
            """);
        return page;
    }

    // Styles of components are bundled as the library is built.
    private static string Styles()
    {
        var library = Path.Combine(Repository.Root, "services", "FleetLight.PageParts");
        var bundle = Directory.GetFiles(Path.Combine(library, "obj"), "*.bundle.scp.css", SearchOption.AllDirectories).MaxBy(File.GetLastWriteTimeUtc)!;
        return File.ReadAllText(Path.Combine(library, "wwwroot", "base.css")) + File.ReadAllText(bundle);
    }

    private sealed class NoScripts : IJSRuntime
    {
        public ValueTask<TValue> InvokeAsync<TValue>(string identifier, object?[]? args) => throw new InvalidOperationException(identifier);

        public ValueTask<TValue> InvokeAsync<TValue>(string identifier, CancellationToken cancellationToken, object?[]? args) => throw new InvalidOperationException(identifier);
    }
}

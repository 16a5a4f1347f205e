using System.Security.Cryptography;
using System.Text;
using System.Text.RegularExpressions;

namespace FleetLight.Service.Hosting.Pages;

/// <summary>One page that runs in the browser: the folder of its files, and the policy that they need.</summary>
public sealed partial class PageFolder
{
    private PageFolder(string name, string folder, IReadOnlyList<string> origins)
    {
        Name = name;
        Folder = folder;
        Index = Path.Combine(folder, "index.html");
        Policy = PolicyOf(File.ReadAllText(Index), origins);
    }

    /// <summary>First part of its addresses, such as <c>field</c>.</summary>
    public string Name { get; }

    /// <summary>Where its files are.</summary>
    public string Folder { get; }

    /// <summary>The file that answers for every address which is not a file's.</summary>
    public string Index { get; }

    /// <summary>
    /// Its content security policy: what this service serves. WebAssembly has to be compiled; the component library writes styles
    /// into elements; the page's own map of files is the one script within it and is named by its digest.
    /// </summary>
    public string Policy { get; }

    /// <summary>The page of that name, where it was built.</summary>
    /// <param name="name">Name of the folder within the pages' folder.</param>
    /// <param name="root">Folder of all pages.</param>
    /// <param name="origins">Origins that it has to reach besides its own.</param>
    public static PageFolder? Find(string name, string root, params IReadOnlyList<string> origins)
    {
        var folder = Path.GetFullPath(Path.Combine(root, name));
        return File.Exists(Path.Combine(folder, "index.html")) ? new PageFolder(name, folder, origins) : null;
    }

    /// <summary>The policy that a page needs.</summary>
    /// <param name="index">Text of its <c>index.html</c>.</param>
    /// <param name="origins">Origins that it has to reach besides its own.</param>
    public static string PolicyOf(string index, params IReadOnlyList<string> origins)
    {
        var scripts = InlineScript().Matches(index).Select(script =>
            $" 'sha256-{Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(script.Groups[1].Value)))}'");
        var connects = origins.Count == 0 ? "" : $"connect-src 'self' {string.Join(' ', origins)}; ";
        return $"default-src 'self'; {connects}script-src 'self' 'wasm-unsafe-eval'{string.Concat(scripts)}; style-src 'self' 'unsafe-inline'; "
            + "img-src 'self' data: blob:; base-uri 'self'; form-action 'none'; frame-ancestors 'none'; object-src 'none'";
    }

    /// <summary>A file of the page, where an address names one.</summary>
    /// <param name="rest">What follows the page's name in the address, without a slash at its beginning.</param>
    public string? FileAt(string rest)
    {
        if (rest.Length == 0) return null;
        var path = Path.GetFullPath(Path.Combine(Folder, rest));
        return path.StartsWith(Folder + Path.DirectorySeparatorChar, StringComparison.Ordinal) && File.Exists(path) ? path : null;
    }

    [GeneratedRegex("<script(?![^>]*\\ssrc=)[^>]*>(.*?)</script>", RegexOptions.Singleline)]
    private static partial Regex InlineScript();
}

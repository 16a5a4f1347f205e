using System.Text.RegularExpressions;

namespace FleetLight.Service.Tests.Overview;

/// <summary>The files of the page, as the build puts them beside the program.</summary>
public static partial class PageFiles
{
    /// <summary>Where they are.</summary>
    public static string Folder { get; } = Path.Combine(AppContext.BaseDirectory, "wwwroot");

    /// <summary>The page.</summary>
    public static string Page => File.ReadAllText(Path.Combine(Folder, "index.html"));

    /// <summary>Every file with its text, by its path from the folder.</summary>
    public static SortedDictionary<string, string> All() => new(
        Directory.EnumerateFiles(Folder, "*", SearchOption.AllDirectories)
            .ToDictionary(file => Path.GetRelativePath(Folder, file).Replace('\\', '/'), File.ReadAllText),
        StringComparer.Ordinal);

    /// <summary>The scripts with their text.</summary>
    public static IEnumerable<KeyValuePair<string, string>> Scripts() =>
        All().Where(file => file.Key.EndsWith(".js", StringComparison.Ordinal));

    /// <summary>The addresses of files that the page and its scripts name.</summary>
    public static SortedSet<string> NamedAddresses() => new(
        [
            .. NamedByPage().Matches(Page).Select(match => match.Groups[1].Value),
            .. Scripts().SelectMany(script => NamedByScript().Matches(script.Value)).Select(match => $"/overview/{match.Groups[1].Value}"),
        ],
        StringComparer.Ordinal);

    [GeneratedRegex("""(?:src|href)="(/overview/[^"]+)["]""")]
    private static partial Regex NamedByPage();

    [GeneratedRegex(@"from '\./([^']+)'")]
    private static partial Regex NamedByScript();
}

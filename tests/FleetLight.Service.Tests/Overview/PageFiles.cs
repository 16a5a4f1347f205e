using System.Text.RegularExpressions;

namespace FleetLight.Service.Tests.Overview;

/// <summary>The files of the page, as the build puts them beside the program.</summary>
public static partial class PageFiles
{
    /// <summary>Where they are.</summary>
    public static string Folder { get; } = Path.Combine(AppContext.BaseDirectory, "wwwroot");

    /// <summary>The pages, each with the folder of its own scripts.</summary>
    public static IReadOnlyList<(string Page, string Scripts)> Pages { get; } = [("index.html", "overview"), ("enrol/index.html", "enrol")];

    /// <summary>The text of a page.</summary>
    public static string Page(string page) => File.ReadAllText(Path.Combine(Folder, page));

    /// <summary>Every file with its text, by its path from the folder.</summary>
    public static SortedDictionary<string, string> All() => new(
        Directory.EnumerateFiles(Folder, "*", SearchOption.AllDirectories)
            .ToDictionary(file => Path.GetRelativePath(Folder, file).Replace('\\', '/'), File.ReadAllText),
        StringComparer.Ordinal);

    /// <summary>The scripts with their text.</summary>
    public static IEnumerable<KeyValuePair<string, string>> Scripts() =>
        All().Where(file => file.Key.EndsWith(".js", StringComparison.Ordinal));

    /// <summary>The scripts of a folder.</summary>
    public static IEnumerable<string> Scripts(string folder) =>
        Scripts().Where(script => script.Key.StartsWith($"{folder}/", StringComparison.Ordinal)).Select(script => script.Value);

    /// <summary>The addresses of files that the pages and their scripts name.</summary>
    public static SortedSet<string> NamedAddresses() => new(
        [
            .. Pages.SelectMany(page => NamedByPage().Matches(Page(page.Page))).Select(match => match.Groups[1].Value),
            .. Scripts().SelectMany(script => NamedByScript().Matches(script.Value)
                .Select(match => new Uri(new Uri($"http://any/{script.Key}"), match.Groups[1].Value).AbsolutePath)),
        ],
        StringComparer.Ordinal);

    [GeneratedRegex("""(?:src|href)="(/(?:overview|enrol)/[^"]+)["]""")]
    private static partial Regex NamedByPage();

    [GeneratedRegex(@"from '([./][^']+)'")]
    private static partial Regex NamedByScript();
}

using System.Text.RegularExpressions;

namespace FleetLight.Contracts.Tests.Architecture;

/// <summary>What makes a repository pleasant to read and would otherwise be said again in every review.</summary>
public partial class TidyTests
{
    private const int MostLines = 400;
    private const int MostColumns = 180;

    // Put together here, so that this file does not find itself.
    private static readonly string[] MachinePaths = ["/" + "work/", "/" + "tmp/", "/" + "root/"];

    // This script's lines run inside the image that it makes, where the path is the image's own.
    private static readonly string[] InsideAnImage = ["tests/local-postgres-image"];

    private static readonly string[] Ignored = [".git", ".data", ".vs", ".idea", "bin", "obj", "TestResults"];
    private static readonly string[] Binary = [".png", ".ico", ".pdf", ".woff2", ".ttf", ".gz"];

    // Written by tools or in prose: their lines are as long as they are.
    private static readonly string[] NotSource = [".json", ".jsonl", ".csv", ".md", ".sln", ".svg", ""];

    private static readonly IReadOnlyList<(string Path, string Text)> Files = Read();

    [Fact]
    public void No_file_is_empty() => Nothing.In(Files.Where(file => file.Text.Length == 0).Select(file => file.Path));

    // The package manager writes its lock files without one.
    [Fact]
    public void Every_file_ends_with_a_line_break() => Nothing.In(Files
        .Where(file => file.Text.Length > 0 && file.Text[^1] != '\n' && !file.Path.EndsWith("packages.lock.json", StringComparison.Ordinal))
        .Select(file => file.Path));

    [Fact]
    public void No_source_file_is_longer_than_a_reader_can_hold() =>
        Nothing.In(Sources.Where(file => file.Text.Count(c => c == '\n') > MostLines).Select(file => file.Path));

    [Fact]
    public void No_line_is_wider_than_a_screen() => None(Sources, line => line.Length > MostColumns);

    // A solution file is written with tabs by every tool that writes one.
    [Fact]
    public void No_tabs() => None(Files.Where(file => !file.Path.EndsWith(".sln", StringComparison.Ordinal)), line => line.Contains('\t', StringComparison.Ordinal));

    [Fact]
    public void What_is_left_to_do_says_why() => None(Files.Where(file => !file.Path.EndsWith("TidyTests.cs", StringComparison.Ordinal)), Unexplained().IsMatch);

    [Fact]
    public void No_path_of_a_machine() => None(
        Files.Where(file => !InsideAnImage.Contains(file.Path)), line => MachinePaths.Any(path => line.Contains(path, StringComparison.Ordinal)));

    private static IEnumerable<(string Path, string Text)> Sources => Files.Where(file =>
        !NotSource.Contains(Path.GetExtension(file.Path)) || (Path.GetExtension(file.Path).Length == 0 && file.Text.StartsWith("#!", StringComparison.Ordinal)));

    private static void None(IEnumerable<(string Path, string Text)> files, Func<string, bool> isBad) => Nothing.In(files.SelectMany(file => file.Text.Split('\n')
        .Select((line, index) => (Line: line, Place: $"{file.Path}:{index + 1}"))
        .Where(each => isBad(each.Line))
        .Select(each => each.Place)));

    private static List<(string Path, string Text)> Read()
    {
        var files = new List<(string, string)>();
        var open = new Queue<DirectoryInfo>([new DirectoryInfo(Repository.Root)]);
        while (open.TryDequeue(out var folder))
        {
            foreach (var below in folder.EnumerateDirectories().Where(below => !Ignored.Contains(below.Name))) open.Enqueue(below);
            foreach (var file in folder.EnumerateFiles().Where(file => !Ignored.Contains(file.Name) && !Binary.Contains(file.Extension)))
                files.Add((Path.GetRelativePath(Repository.Root, file.FullName), File.ReadAllText(file.FullName)));
        }

        return files;
    }

    // The word, unless a colon and a reason of at least two words follow it.
    [GeneratedRegex(@"\bTODO\b(?!: \S+ \S+)")]
    private static partial Regex Unexplained();
}

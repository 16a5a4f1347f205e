namespace FleetLight.Testing;

/// <summary>The files of the repository that the tests stand in.</summary>
public static class Repository
{
    /// <summary>Its folder.</summary>
    public static string Root { get; } = Find();

    /// <summary>A path of the repository.</summary>
    public static string At(string path) => Path.Combine(Root, path);

    /// <summary>The text of a file.</summary>
    public static string Read(string path) => File.ReadAllText(At(path));

    private static string Find()
    {
        for (DirectoryInfo? folder = new(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "FleetLight.sln"))) return folder.FullName;
        }

        throw new InvalidOperationException("The tests do not stand in a copy of the repository.");
    }
}

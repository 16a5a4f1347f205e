namespace FleetLight.Endurance.Tests.Hosting;

/// <summary>The files of the repository that the tests stand in.</summary>
internal static class Repository
{
    private static readonly string Root = Find();

    /// <summary>A path of the repository.</summary>
    public static string At(string path) => Path.Combine(Root, path);

    private static string Find()
    {
        for (DirectoryInfo? folder = new(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "FleetLight.sln"))) return folder.FullName;
        }

        throw new InvalidOperationException("The tests do not stand in a copy of the repository.");
    }
}

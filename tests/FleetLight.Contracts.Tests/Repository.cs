namespace FleetLight.Contracts.Tests;

/// <summary>Where the files of the repository are.</summary>
internal static class Repository
{
    /// <summary>The folder that holds the solution.</summary>
    public static string Root { get; } = Find(AppContext.BaseDirectory);

    /// <summary>The path of a file or folder by its parts below the root.</summary>
    public static string At(string path) => Path.Combine(Root, path);

    private static string Find(string? folder)
    {
        while (folder is not null && !File.Exists(Path.Combine(folder, "FleetLight.sln"))) folder = Path.GetDirectoryName(folder);
        return folder ?? throw new InvalidOperationException("The tests run from within the repository.");
    }
}

namespace FleetLight.Faults.Tests;

/// <summary>The folder of the repository, found from where the tests run.</summary>
internal static class Repository
{
    /// <summary>Its path.</summary>
    public static string Root { get; } = Find();

    private static string Find()
    {
        DirectoryInfo? folder = new(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "FleetLight.sln"))) folder = folder.Parent;
        return folder?.FullName ?? throw new DirectoryNotFoundException("The tests do not run inside the repository.");
    }
}

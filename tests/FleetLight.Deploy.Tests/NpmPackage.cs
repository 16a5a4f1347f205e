using Xunit;

namespace FleetLight.Deploy.Tests;

/// <summary>A package of the npm registry, in a folder of its own, for what judges our files and is no program of Debian's.</summary>
internal sealed class NpmPackage : IDisposable
{
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("fleetlight-npm-");

    private NpmPackage()
    {
    }

    /// <summary>Fetches a package with its exact version; where it cannot be had the test is skipped with the reason.</summary>
    public static async Task<NpmPackage> NeedAsync(string name, string version)
    {
        string? npm = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator)
            .Select(each => Path.Combine(each, "npm")).FirstOrDefault(File.Exists);
        Assert.SkipWhen(npm is null, $"There is no npm here to fetch {name} with; on Debian it comes with the package npm.");
        NpmPackage package = new();
        Ended installed = await Tool.RunAsync(
            TimeSpan.FromMinutes(2), npm!,
            ["install", "--silent", "--no-audit", "--no-fund", "--ignore-scripts", "--prefix", package.folder.FullName, $"{name}@{version}"]);
        if (installed.Code == 0) return package;
        package.Dispose();
        Assert.Skip($"{name} {version} could not be had from the npm registry (npm ended with {installed.Code}).");
        return package;
    }

    /// <summary>A file of it.</summary>
    public string At(string path) => Path.Combine(folder.FullName, "node_modules", path);

    /// <inheritdoc/>
    public void Dispose() => folder.Delete(recursive: true);
}

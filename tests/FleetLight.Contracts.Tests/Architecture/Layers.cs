using System.Reflection;
using System.Reflection.Metadata;
using System.Reflection.PortableExecutable;
using System.Xml.Linq;

namespace FleetLight.Contracts.Tests.Architecture;

/// <summary>Which project may import which, and what the built ones really import.</summary>
internal static class Layers
{
    private const string Ours = "FleetLight.";

    private static readonly string[] Shipped = ["contracts", "services"];

    private static readonly Dictionary<string, string[]> Allowed = new(StringComparer.Ordinal)
    {
        ["FleetLight.Contracts"] = [],
        ["FleetLight.Electrics"] = ["FleetLight.Contracts"],
        ["FleetLight.Record"] = ["FleetLight.Contracts", "FleetLight.Electrics"],
        ["FleetLight.Labels"] = ["FleetLight.Contracts"],
        ["FleetLight.OpenData"] = ["FleetLight.Contracts", "FleetLight.Electrics", "FleetLight.Record"],
        ["FleetLight.Service"] =
            ["FleetLight.Contracts", "FleetLight.Electrics", "FleetLight.Record", "FleetLight.Labels", "FleetLight.Handover", "FleetLight.OpenData"],
        ["FleetLight.Drawings"] = ["FleetLight.Contracts", "FleetLight.Electrics", "FleetLight.Record"],
        ["FleetLight.Handover"] = ["FleetLight.Contracts", "FleetLight.Electrics", "FleetLight.Record", "FleetLight.Drawings"],
        ["FleetLight.Verify"] = ["FleetLight.Contracts", "FleetLight.Record"],
        ["FleetLight.Demo"] = ["FleetLight.Contracts"],
        ["FleetLight.Client"] = ["FleetLight.Contracts"],
        ["FleetLight.PageParts"] = ["FleetLight.Contracts", "FleetLight.Client", "FleetLight.Electrics", "FleetLight.Record", "FleetLight.Drawings"],
        ["FleetLight.Field"] = ["FleetLight.Contracts", "FleetLight.Client", "FleetLight.Electrics", "FleetLight.Record", "FleetLight.Labels", "FleetLight.PageParts"],
        ["FleetLight.Office"] = ["FleetLight.Contracts", "FleetLight.Client", "FleetLight.Electrics", "FleetLight.Record", "FleetLight.PageParts"],
        ["FleetLight.FieldAgent"] = ["FleetLight.Contracts", "FleetLight.Client", "FleetLight.Electrics", "FleetLight.Record"],
    };

    /// <summary>The projects that take no part in the world: no network, no files, no database.</summary>
    public static readonly string[] Pure = ["FleetLight.Contracts", "FleetLight.Electrics", "FleetLight.Record"];

    /// <summary>The projects that are built with these tests.</summary>
    public static readonly string[] Built =
    [
        .. Pure, "FleetLight.Labels", "FleetLight.Drawings", "FleetLight.Handover", "FleetLight.Service", "FleetLight.Client", "FleetLight.FieldAgent",
    ];

    /// <summary>What a project may import of ours; none where it has no place yet. What runs beside the crew never sees the service.</summary>
    public static string[]? AllowedFor(string project) => Allowed.GetValueOrDefault(project);

    /// <summary>The project files that are shipped.</summary>
    public static IEnumerable<string> ProjectFiles => Shipped
        .SelectMany(folder => Directory.EnumerateFiles(Repository.At(folder), "*.csproj", SearchOption.AllDirectories))
        .Order(StringComparer.Ordinal);

    /// <summary>The project file of a project.</summary>
    public static string FileOf(string project) => ProjectFiles.Single(file => Path.GetFileNameWithoutExtension(file) == project);

    /// <summary>The projects that a project file imports; one that only has to be built before is none of them.</summary>
    public static IEnumerable<string> ProjectsOf(string file) => XDocument.Load(file).Descendants("ProjectReference")
        .Where(reference => reference.Attribute("ReferenceOutputAssembly")?.Value != "false")
        .Select(reference => Path.GetFileNameWithoutExtension(reference.Attribute("Include")!.Value.Replace('\\', '/')));

    /// <summary>The packages that a project file names and that reach what is built.</summary>
    public static IEnumerable<string> PackagesOf(string file) => XDocument.Load(file).Descendants("PackageReference")
        .Where(reference => reference.Attribute("PrivateAssets")?.Value != "all")
        .Select(reference => reference.Attribute("Include")!.Value);

    /// <summary>The assemblies of ours that a built project refers to.</summary>
    public static IEnumerable<string> AssembliesOf(string project) => Assembly.Load(project).GetReferencedAssemblies()
        .Select(name => name.Name!).Where(name => name.StartsWith(Ours, StringComparison.Ordinal));

    /// <summary>Every foreign type that a built project refers to, by its full name.</summary>
    public static IReadOnlyList<string> TypesOf(string project)
    {
        using var image = new PEReader(File.OpenRead(Assembly.Load(project).Location));
        var metadata = image.GetMetadataReader();
        return
        [
            .. metadata.TypeReferences.Select(metadata.GetTypeReference)
                .Select(type => $"{metadata.GetString(type.Namespace)}.{metadata.GetString(type.Name)}"),
        ];
    }
}

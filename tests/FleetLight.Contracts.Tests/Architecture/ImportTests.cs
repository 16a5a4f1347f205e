namespace FleetLight.Contracts.Tests.Architecture;

/// <summary>Imports run one way: contracts ← Electrics ← Record ← Service, and contracts ← what runs beside the crew.</summary>
public class ImportTests
{
    private static readonly string[] Worldly =
    [
        "Microsoft.AspNetCore.", "Microsoft.Extensions.", "Marten.", "JasperFx.", "Npgsql.", "Serilog.", "System.Data.", "System.Net.", "System.IO.",
        "System.Diagnostics.Process",
    ];

    public static TheoryData<string> Projects => [.. Layers.ProjectFiles.Select(file => Path.GetFileNameWithoutExtension(file)!)];

    public static TheoryData<string> Built => [.. Layers.Built];

    public static TheoryData<string> Pure => [.. Layers.Pure];

    [Theory]
    [MemberData(nameof(Projects))]
    public void A_project_names_only_what_lies_below_it(string project)
    {
        var allowed = Layers.AllowedFor(project);
        Assert.True(allowed is not null, $"{project} has no place among the layers yet: say in Layers.cs what it may import.");
        Assert.Subset(allowed.ToHashSet(), Layers.ProjectsOf(Layers.FileOf(project)).ToHashSet());
    }

    [Theory]
    [MemberData(nameof(Built))]
    public void What_is_built_imports_only_what_lies_below_it(string project) =>
        Assert.Subset(Layers.AllowedFor(project)!.ToHashSet(), Layers.AssembliesOf(project).ToHashSet());

    [Theory]
    [MemberData(nameof(Pure))]
    public void A_pure_project_takes_no_package_with_it(string project) => Nothing.In(Layers.PackagesOf(Layers.FileOf(project)));

    [Fact]
    public void The_service_is_seen_to_touch_them() =>
        Assert.All(["Marten.", "Npgsql.", "Microsoft.AspNetCore."], name => Assert.Contains(Layers.TypesOf("FleetLight.Service"), type => IsOf(type, name)));

    [Theory]
    [MemberData(nameof(Pure))]
    public void A_pure_project_touches_no_network_no_file_and_no_database(string project) =>
        Nothing.In(Layers.TypesOf(project).Where(type => Worldly.Any(name => IsOf(type, name))));

    private static bool IsOf(string type, string name) => type.StartsWith(name, StringComparison.Ordinal);
}

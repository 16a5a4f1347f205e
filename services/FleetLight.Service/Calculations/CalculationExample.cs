using System.Reflection;
using System.Text.Json.Nodes;

namespace FleetLight.Service.Calculations;

/// <summary>A worked example of a calculation, from the contract's folder of examples.</summary>
/// <param name="Calculation">Name of the calculation.</param>
/// <param name="Name">Name of the example.</param>
/// <param name="Request">What is asked.</param>
/// <param name="Answer">What is answered.</param>
internal sealed record CalculationExample(string Calculation, string Name, JsonNode Request, JsonNode Answer)
{
    private const string Folder = "calculations/";
    private const string RequestEnding = ".request.json";
    private const string AnswerEnding = ".answer.json";

    /// <summary>All of them, in the order of their names.</summary>
    public static IReadOnlyList<CalculationExample> All { get; } = ReadAll(Assembly.GetExecutingAssembly());

    // An example that was only just written has no answer until the tests have written it.
    private static CalculationExample[] ReadAll(Assembly assembly)
    {
        var names = assembly.GetManifestResourceNames().Where(name => name.StartsWith(Folder, StringComparison.Ordinal)).ToHashSet();
        return
        [
            .. names.Where(name => name.EndsWith(RequestEnding, StringComparison.Ordinal))
                .Select(name => name[..^RequestEnding.Length])
                .Where(name => names.Contains(name + AnswerEnding))
                .Order(StringComparer.Ordinal)
                .Select(name => (Name: name, Parts: name[Folder.Length..].Split('.')))
                .Select(each => new CalculationExample(
                    each.Parts[0], each.Parts[1], Read(assembly, each.Name + RequestEnding), Read(assembly, each.Name + AnswerEnding))),
        ];
    }

    private static JsonNode Read(Assembly assembly, string name)
    {
        using var text = assembly.GetManifestResourceStream(name)!;
        return JsonNode.Parse(text)!;
    }
}

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

    private static CalculationExample[] ReadAll(Assembly assembly) =>
    [
        .. assembly.GetManifestResourceNames()
            .Where(name => name.StartsWith(Folder, StringComparison.Ordinal) && name.EndsWith(RequestEnding, StringComparison.Ordinal))
            .Select(name => name[Folder.Length..^RequestEnding.Length])
            .Order(StringComparer.Ordinal)
            .Select(name => new CalculationExample(
                name.Split('.')[0], name.Split('.')[1], Read(assembly, name + RequestEnding), Read(assembly, name + AnswerEnding))),
    ];

    private static JsonNode Read(Assembly assembly, string name)
    {
        using var text = assembly.GetManifestResourceStream(Folder + name)
            ?? throw new InvalidOperationException($"The example {name} is missing.");
        return JsonNode.Parse(text)!;
    }
}

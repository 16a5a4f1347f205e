using System.Text.Json;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Calculations;

namespace FleetLight.Contracts.Tests.Calculations;

/// <summary>A worked example of a calculation: what is asked and what is answered, each a file of the contract.</summary>
/// <param name="Calculation">Name of the calculation.</param>
/// <param name="Name">Name of the example.</param>
internal sealed record WorkedExample(string Calculation, string Name)
{
    /// <summary>Where they are.</summary>
    public const string Folder = "contracts/examples/calculations";

    private const string RequestEnding = ".request.json";

    /// <summary>All of them.</summary>
    public static IReadOnlyList<WorkedExample> All { get; } =
    [
        .. Directory.EnumerateFiles(Repository.At(Folder), "*" + RequestEnding)
            .Select(file => Path.GetFileName(file)[..^RequestEnding.Length].Split('.'))
            .Select(parts => new WorkedExample(parts[0], parts[1]))
            .OrderBy(example => example.ToString(), StringComparer.Ordinal),
    ];

    /// <summary>The example by its calculation and its name, for instance <c>expected.one-load</c>.</summary>
    public static WorkedExample Of(string name) => All.Single(example => example.ToString() == name);

    /// <summary>The file with what is asked.</summary>
    public string RequestFile => $"{Folder}/{this}{RequestEnding}";

    /// <summary>The file with what is answered.</summary>
    public string AnswerFile => $"{Folder}/{this}.answer.json";

    /// <summary>The approved answer.</summary>
    public JsonNode Answer => JsonNode.Parse(File.ReadAllText(Repository.At(AnswerFile)))!;

    /// <summary>What the code answers now.</summary>
    public JsonNode AnswerNow() => Ask(Calculation, File.ReadAllBytes(Repository.At(RequestFile)));

    /// <summary>What a calculation answers.</summary>
    public static JsonNode Ask(string calculation, byte[] body)
    {
        var (work, problem) = CalculationEndpoints.All.Single(each => each.Name == calculation).Read(body);
        Assert.True(problem is null, problem?.Detail);
        var (answer, wrong) = work!.Run();
        Assert.True(wrong is null, wrong?.Detail);
        return JsonSerializer.SerializeToNode(answer, answer!.GetType(), WireJson.Lenient)!;
    }

    public override string ToString() => $"{Calculation}.{Name}";
}

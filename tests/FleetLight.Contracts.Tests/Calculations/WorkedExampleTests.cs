using System.Text.Json;
using System.Text.Json.Nodes;
using FleetLight.Service.Calculations;

namespace FleetLight.Contracts.Tests.Calculations;

/// <summary>The worked examples say what the code answers.</summary>
public class WorkedExampleTests
{
    // The last digits may differ from processor to processor.
    private const double MostRelativeDifference = 1e-6;

    public static TheoryData<string> Examples => [.. WorkedExample.All.Select(example => example.ToString())];

    [Fact]
    public void Every_calculation_has_an_example() => Assert.Equal(
        CalculationEndpoints.All.Select(calculation => calculation.Name).Order(StringComparer.Ordinal),
        WorkedExample.All.Select(example => example.Calculation).Distinct().Order(StringComparer.Ordinal));

    [Fact]
    public void Nothing_else_lies_beside_them() => Assert.Equal(
        WorkedExample.All.SelectMany(example => new[] { example.AnswerFile, example.RequestFile }).Order(StringComparer.Ordinal),
        Directory.EnumerateFiles(Repository.At(WorkedExample.Folder))
            .Select(file => $"{WorkedExample.Folder}/{Path.GetFileName(file)}").Order(StringComparer.Ordinal));

    [Theory]
    [MemberData(nameof(Examples))]
    public void The_answer_is_the_one_approved(string name)
    {
        var example = WorkedExample.Of(name);
        var now = example.AnswerNow();
        if (Approved.Writes && !(File.Exists(Repository.At(example.AnswerFile)) && AreSame(example.Answer, now)))
            Approved.Check(example.AnswerFile, Approved.Text(now));
        Assert.True(AreSame(example.Answer, now), $"{example.AnswerFile} is not what is answered now: {now}. {Approved.Remedy}");
    }

    private static bool AreSame(JsonNode? one, JsonNode? other) => (one, other) switch
    {
        (JsonObject a, JsonObject b) => a.Count == b.Count
            && a.Zip(b).All(pair => pair.First.Key == pair.Second.Key && AreSame(pair.First.Value, pair.Second.Value)),
        (JsonArray a, JsonArray b) => a.Count == b.Count && a.Zip(b).All(pair => AreSame(pair.First, pair.Second)),
        (JsonValue a, JsonValue b) when a.GetValueKind() == JsonValueKind.Number && b.GetValueKind() == JsonValueKind.Number =>
            AreClose(double.Parse(a.ToJsonString(), Plain), double.Parse(b.ToJsonString(), Plain)),
        _ => JsonNode.DeepEquals(one, other),
    };

    private static IFormatProvider Plain => System.Globalization.CultureInfo.InvariantCulture;

    private static bool AreClose(double one, double other) =>
        Math.Abs(one - other) <= MostRelativeDifference * Math.Max(Math.Abs(one), Math.Abs(other));
}

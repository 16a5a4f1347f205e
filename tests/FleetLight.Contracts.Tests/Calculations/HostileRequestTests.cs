using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Calculations;

namespace FleetLight.Contracts.Tests.Calculations;

/// <summary>Whatever is asked is answered or refused by name: never an exception, never a figure that JSON cannot write.</summary>
public class HostileRequestTests
{
    private const int PerExample = 400;

    private static readonly string[] Replacements =
    [
        "null", "0", "-1", "1e-320", "1e308", "1e999", "0.001", "1500", "10000", "100000", "99", "1", "2", "16", "0.5", "true", "\"driver\"", "\"f1\"", "\"f2\"",
        "\"\"", "\"constant-current\"", "\"constant-voltage\"", "\"resistive\"", "\"class1\"", "\"volts-dc\"", "\"megohms-insulation\"", "[]", "{}",
    ];

    public static TheoryData<string> Examples => [.. WorkedExample.All.Select(example => example.ToString())];

    [Theory]
    [MemberData(nameof(Examples))]
    public void A_spoiled_request_is_answered_or_refused(string name)
    {
        var example = WorkedExample.Of(name);
        var text = File.ReadAllText(Repository.At(example.RequestFile));
        var calculation = CalculationEndpoints.All.Single(each => each.Name == example.Calculation);
        var chance = new Random(17);
        var answered = 0;
        for (var i = 0; i < PerExample; i++)
        {
            var request = JsonNode.Parse(text)!;
            for (var spoiled = chance.Next(1, 4); spoiled > 0; spoiled--) Spoil(request, chance);
            if (Ask(calculation, request.ToJsonString())) answered++;
        }

        // Else nothing but the reading of requests was tried.
        Assert.InRange(answered, PerExample / 20, PerExample);
    }

    private static bool Ask(ICalculation calculation, string body)
    {
        try
        {
            var (work, problem) = calculation.Read(Encoding.UTF8.GetBytes(body));
            var (answer, wrong) = work?.Run() ?? (null, problem);
            Assert.True(answer is null != wrong is null, body);
            Assert.Equal(answer is null, JsonSerializer.Serialize(wrong ?? answer, WireJson.Lenient).Contains("urn:fleetlight:problem:", StringComparison.Ordinal));
            return answer is not null;
        }
        catch (Exception unexpected) when (unexpected is not Xunit.Sdk.IAssertionException)
        {
            throw new InvalidOperationException($"{calculation.Name} of {body}", unexpected);
        }
    }

    private static void Spoil(JsonNode request, Random chance)
    {
        List<JsonNode> places = [.. Below(request)];
        var place = places[chance.Next(places.Count)];
        var value = JsonNode.Parse(Replacements[chance.Next(Replacements.Length)]);
        if (place is JsonObject { Count: > 0 } members)
        {
            var name = members.ElementAt(chance.Next(members.Count)).Key;
            if (chance.Next(5) == 0) members.Remove(name);
            else members[name] = value;
        }
        else if (place is JsonArray { Count: > 0 } list)
        {
            var index = chance.Next(list.Count);
            if (chance.Next(2) == 0) list.Add(list[index]?.DeepClone());
            else list[index] = value;
        }
    }

    private static IEnumerable<JsonNode> Below(JsonNode node) => node switch
    {
        JsonObject members => members.Select(member => member.Value).OfType<JsonNode>().SelectMany(Below).Prepend(node),
        JsonArray list => list.OfType<JsonNode>().SelectMany(Below).Prepend(node),
        _ => [],
    };
}

using System.Collections.Concurrent;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Intake;
using Xunit;

namespace FleetLight.Endurance.Tests.Fuzz;

/// <summary>
/// Every pair of hostile values in every pair of members of one event: what chance meets once in millions of requests, such as half
/// of a surrogate pair together with a leap second, is met here each time.
/// </summary>
public sealed class EveryPairTests
{
    private const string Source = "/devices/crew-2";
    private const int LongestValue = 200;

    private static readonly string[] Values =
    [
        .. Hostile.Texts.Where(text => text.Length <= LongestValue).Select(text => JsonSerializer.Serialize(text)),
        .. Hostile.Tokens.Where(token => token.Length <= LongestValue),
    ];

    [Fact]
    public void Whatever_an_event_holds_reading_it_gives_a_fact_or_a_problem()
    {
        JsonObject sound = JsonNode.Parse(File.ReadAllText(Repository.At("contracts/examples/fleetlight.circuit.energised.v1.json")))!.AsObject();
        (sound["source"], sound["id"], sound["runningnumber"]) = (Source, "pair-1", 1);
        string[][] paths =
        [
            .. sound.Where(member => member.Key != "data").Select(member => new[] { member.Key }),
            .. sound["data"]!.AsObject().Select(member => new[] { "data", member.Key }),
        ];
        ConcurrentDictionary<string, string> faults = new(StringComparer.Ordinal);
        int read = 0, facts = 0;
        foreach ((int first, int second) in from first in Enumerable.Range(0, paths.Length)
                                            from second in Enumerable.Range(first + 1, paths.Length - first - 1)
                                            select (first, second))
        {
            string[] pieces = Pieces(sound, paths[first], paths[second]);
            Parallel.ForEach(Values, one =>
            {
                foreach (string other in Values)
                {
                    byte[] body = Encoding.UTF8.GetBytes(string.Concat(pieces[0], one, pieces[1], other, pieces[2]));
                    Interlocked.Increment(ref read);
                    if (Fault(body, ref facts) is { } fault) faults.TryAdd(fault, Encoding.UTF8.GetString(body));
                }
            });
        }

        Assert.True(faults.IsEmpty, string.Join('\n', faults.Select(pair => $"{pair.Key}\n  {pair.Value}")));
        Assert.InRange(read, 100_000, 5_000_000);
        Assert.InRange(facts, 1, read / 2);
    }

    private static string? Fault(byte[] body, ref int facts)
    {
        try
        {
            ReadEvent read = Assert.Single(BatchReader.Read(body, batch: false, Source).Events);
            if (read.Fact is not null) Interlocked.Increment(ref facts);
            if (read.Fact is null == read.Problem is null) return "neither a fact nor a problem, or both";
            string kept = read.Fact is { } fact
                ? JsonSerializer.Serialize(fact, fact.GetType(), WireJson.Strict)
                : JsonSerializer.Serialize(read.Problem, WireJson.Strict);
            return kept.Contains("\\u0000", StringComparison.Ordinal) ? "kept with the character zero, which the store cannot hold" : null;
        }
        catch (Exception fault)
        {
            return $"{fault.GetType().Name}: {fault.Message}";
        }
    }

    // The text around the two values: before the one, between them, behind the other.
    private static string[] Pieces(JsonObject sound, params string[][] paths)
    {
        const string Mark = "@@here@@";
        JsonNode marked = sound.DeepClone();
        foreach (string[] path in paths)
        {
            JsonNode holder = path.Length == 1 ? marked : marked[path[0]]!;
            holder[path[^1]] = Mark;
        }

        return marked.ToJsonString().Split($"\"{Mark}\"");
    }
}

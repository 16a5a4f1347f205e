using System.Text.Json;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Checks;
using FleetLight.Record.OpenPoints;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.OpenPoints;

/// <summary>The law of the list: whatever happened on a site, the fact that a point offers is sound, and takes the point off.</summary>
public sealed class TickOffTests
{
    // What a crew would fill in where the list asks: sound values, of which some mend and some do not.
    private static readonly Dictionary<string, string> FilledIn = new(StringComparer.Ordinal)
    {
        ["service"] = "\"spare\"",
        ["colour"] = "\"black\"",
        ["wall"] = "\"twin-wall\"",
        ["boreMillimetres"] = "50",
        ["lengthMetres"] = "10",
        ["cableId"] = "\"c9\"",
        ["ductIds"] = "[]",
        ["areaSquareMillimetres"] = "1.5",
        ["conductorClass"] = "\"class5\"",
        ["cores"] = "[{\"core\":\"1\",\"use\":\"spare\"}]",
        ["core"] = "\"1\"",
        ["polarity"] = "\"positive\"",
        ["end"] = "\"near\"",
        ["lie"] = "\"flat-in-ground\"",
        ["entry"] = "\"glands\"",
        ["strainRelief"] = "true",
        ["gelFilled"] = "true",
        ["breathing"] = "true",
        ["connectors"] = "[{\"conductors\":[{\"cableId\":\"c0\",\"core\":\"1\"}]}]",
        ["unlitFittingIds"] = "[\"F0\"]",
        ["nominalVolts"] = "230",
        ["megohms"] = "200",
        ["ohms"] = "0.4",
        ["ratedResidualMilliamps"] = "30",
        ["currentMultiple"] = "1",
        ["tripMilliseconds"] = "25",
        ["value"] = "9.2",
        ["what"] = "\"Mended.\"",
    };

    // Whether these go depends on what is filled in, or on more than one fact.
    private static readonly string[] NeedMore = ["read:driver", "reading-outside", "polarity-sleeve-wrong", ":cable:"];

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    public void What_a_point_offers_takes_it_off(int seed)
    {
        var (offered, taken) = (0, 0);
        for (var round = 0; round < 15; round++)
        {
            var history = Histories.Make(40, seed * 1000 + round);
            foreach (var point in Open(WorksOf(history)))
            {
                foreach (var tick in point.TicksOff)
                {
                    offered++;
                    var fact = FactOf(tick);
                    Assert.True(FactCheck.Check(fact).Count == 0, $"{point.Key}: {string.Join(' ', FactCheck.Check(fact).Select(wrong => wrong.Detail))}");
                    if (NeedMore.Any(key => point.Key.Contains(key, StringComparison.Ordinal))) continue;
                    var works = WorksOf(history);
                    works.Take(new Crew("later").Records(fact, Crew.Start.AddYears(3), recordedAt: Crew.Start.AddYears(3)));
                    Assert.False(
                        Open(works).Any(other => other.Key == point.Key && other.Missing == point.Missing), $"seed {seed}, round {round}: {point.Key} stays after {tick.Data}.");
                    taken++;
                }
            }
        }

        Assert.True(taken > 300, $"{taken} of {offered} only.");
    }

    [Fact]
    public void A_list_has_each_point_once()
    {
        for (var seed = 0; seed < 40; seed++)
        {
            var keys = Open(WorksOf(Histories.Make(60, seed))).Select(point => point.Key).ToList();
            Assert.Equal(keys.Distinct(), keys);
        }
    }

    private static WorksModel WorksOf(RecordedFact[] history)
    {
        var works = new WorksModel();
        works.Take(history);
        return works;
    }

    private static IReadOnlyList<OpenPoint> Open(WorksModel works) => OpenPointList.Of(OpenPointTests.StatesOf(works)).Points;

    private static IFact FactOf(TickOff tick)
    {
        var data = JsonNode.Parse(tick.Data.GetRawText())!.AsObject();
        foreach (var name in tick.Asks) data[name] = JsonNode.Parse(FilledIn[name]);
        return (IFact)JsonSerializer.Deserialize(data, FactTypes.Find(tick.Type)!, WireJson.Strict)!;
    }
}

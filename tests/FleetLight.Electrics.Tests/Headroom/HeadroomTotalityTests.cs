using System.Text.Json;
using FleetLight.Contracts;
using FleetLight.Electrics.Tests.Totality;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FleetLight.Electrics.Tests.HeadroomAndChange;

/// <summary>Whatever is asked, an answer or a named refusal comes out.</summary>
public class HeadroomTotalityTests
{
    [Property(Arbitrary = [typeof(Hostile)], MaxTest = 1500)]
    public bool Any_question_is_answered_or_refused(CircuitModel model, Assumptions assumptions, int seed)
    {
        var random = new Random(seed);
        var result = Headroom.Of(Question(model, random), Options(random), assumptions);
        if (result.Refusal is { } refusal)
            return result.Answer is null && refusal.Text.Length > 0 && refusal.Field.Length > 0;
        Assert.NotEmpty(JsonSerializer.Serialize(result.Answer));
        return result.Answer!.Text.Length > 0 && result.Answer.LongestRuns.Length == 9;
    }

    [Fact]
    public void The_generator_reaches_answers_and_refusals()
    {
        var random = new Random(4);
        var results = Hostile.Circuits().Generator.Sample(2000)
            .Select(m => Headroom.Of(Question(m, random), new HeadroomOptions { MostProposals = 1 })).ToList();
        Assert.InRange(results.Count(r => r.Answer is not null), 100, 1900);
        Assert.True(results.Select(r => r.Refusal?.Reason).Distinct().Count() >= 5);
    }

    [Theory]
    [InlineData("question")]
    [InlineData("circuit")]
    [InlineData("where")]
    [InlineData("circuit.driver")]
    [InlineData("fittings")]
    [InlineData("fittings[0].id")]
    [InlineData("fittings[1].id")]
    [InlineData("fittings[0].ratedWatts")]
    [InlineData("where.node")]
    [InlineData("where.spareRunIds[0]")]
    [InlineData("where.spareRunIds[1]")]
    [InlineData("where.run.lengthMetres")]
    [InlineData("where.run.spacingMetres")]
    [InlineData("where.run.areaSquareMillimetres")]
    [InlineData("spareCores[0].runId")]
    [InlineData("spareCores[0].count")]
    [InlineData("options.marginPercent")]
    [InlineData("options.mostDropPercent")]
    [InlineData("options.mostProposals")]
    [InlineData("options.runClass")]
    [InlineData("options.costs")]
    [InlineData("changed.runs[0].lengthMetres")]
    public void Nonsense_is_refused_by_name(string field)
    {
        var good = new HeadroomQuestion(Some.SixNodeTree(), Asked.Fittings(2, 1), new AddedWhere("n4"));
        var options = HeadroomOptions.Default;
        var runs = good.Circuit.Runs;
        HeadroomQuestion? question = field switch
        {
            "question" => null,
            "circuit" => good with { Circuit = null! },
            "where" => good with { Where = null! },
            "circuit.driver" => good with { Circuit = good.Circuit with { Driver = null! } },
            "fittings" => good with { Fittings = default },
            "fittings[0].id" => good with { Fittings = [new FittingModel("n4", 1)] },
            "fittings[1].id" => good with { Fittings = [new FittingModel("x", 1), new FittingModel("x", 1)] },
            "fittings[0].ratedWatts" => good with { Fittings = Asked.Fittings(1, double.NaN) },
            "where.node" => good with { Where = new AddedWhere("nowhere") },
            "where.spareRunIds[0]" => good with { Where = new AddedWhere("n4") { SpareRunIds = ["n1-n2"] } },
            "where.spareRunIds[1]" => good with { Where = new AddedWhere("n4") { SpareRunIds = ["n1-n4", "n1-n4"] } },
            "where.run.lengthMetres" => With(Asked.Run(double.PositiveInfinity, 1)),
            "where.run.spacingMetres" => With(Asked.Run(1, 1) with { SpacingMetres = -1 }),
            "where.run.areaSquareMillimetres" => With(Asked.Run(1, 1.25)),
            "spareCores[0].runId" => good with { SpareCores = [new(null!, 2)] },
            "spareCores[0].count" => good with { SpareCores = [new("n1-n2", -1)] },
            "changed.runs[0].lengthMetres" => good with
            {
                Circuit = good.Circuit with { Runs = runs.SetItem(0, runs[0] with { LengthMetres = -4 }) },
            },
            _ => good,
        };
        options = field switch
        {
            "options.marginPercent" => options with { MarginPercent = 100 },
            "options.mostDropPercent" => options with { MostDropPercent = 0 },
            "options.mostProposals" => options with { MostProposals = 101 },
            "options.runClass" => options with { RunClass = (ConductorClass)9 },
            "options.costs" => options with { Costs = new ChangeCosts { LargerDriver = double.NaN } },
            _ => options,
        };
        var result = Headroom.Of(question, options);
        Assert.Null(result.Answer);
        Assert.Equal(field, result.Refusal!.Field);
        HeadroomQuestion With(NewRun run) => good with { Where = good.Where with { Run = run } };
    }

    [Fact]
    public void Too_large_a_circuit_is_refused_by_name()
    {
        var circuit = Some.Series([.. Enumerable.Repeat(1.0, 1001)]);
        var result = Headroom.Of(new HeadroomQuestion(circuit, Asked.Fittings(1, 1), new AddedWhere("driver")));
        Assert.Equal(("circuit", RefusalReason.OutOfRange), (result.Refusal!.Field, result.Refusal.Reason));
        var many = Headroom.Of(new HeadroomQuestion(Some.Series(1), Asked.Fittings(201, 1), new AddedWhere("driver")));
        Assert.Equal("fittings", many.Refusal!.Field);
    }

    private static HeadroomQuestion Question(CircuitModel model, Random random)
    {
        var nodes = new[] { "driver", "n0", "n1", "n2", null! };
        var odd = random.Next(6) == 0;
        return new HeadroomQuestion(
            model,
            odd ? default : Asked.Fittings(random.Next(1, 3), random.Next(20) == 0 ? double.NaN : 1.5),
            new AddedWhere(nodes[random.Next(nodes.Length)])
            {
                SpareRunIds = random.Next(4) == 0 ? ["r0", "r1"] : random.Next(9) == 0 ? default : [],
                Run = random.Next(2) == 0 ? null : Asked.Run(random.Next(10) == 0 ? double.NaN : 20, 1.5),
            })
        {
            SpareCores = random.Next(3) == 0 ? [new("r0", 2)] : random.Next(9) == 0 ? default : [],
        };
    }

    private static HeadroomOptions Options(Random random) => new()
    {
        MarginPercent = random.Next(20) == 0 ? double.NaN : 10,
        CatalogueWatts = random.Next(9) == 0 ? default : [double.NaN, -1, 0.5],
        MostProposals = 3,
    };
}

using System.Text.Json;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Designs;

namespace FleetLight.Contracts.Tests.Examples;

/// <summary>Designs that are shown as a table.</summary>
public class DesignExampleTests
{
    [Fact]
    public void The_table_is_read_without_a_mistake_and_written_the_same()
    {
        var bytes = File.ReadAllBytes(Repository.At("contracts/examples/designs/garden.csv"));

        var read = DesignReader.OfCsv(bytes);

        Nothing.In(read.Problems.Select(problem => problem.Detail));
        Assert.Equal(["c-steps", "c-pond"], read.Designs.Select(design => design.CircuitId));
        Assert.Equal(System.Text.Encoding.UTF8.GetString(bytes), DesignWriter.ToCsv(read.Designs));
    }

    [Fact]
    public void Its_first_circuit_is_that_of_the_example_of_a_fact()
    {
        var fact = Example.All.Single(one => one.GetProperty("type").GetString() == FactTypes.NameOf(typeof(CircuitDesigned))).GetProperty("data");
        var first = DesignReader.OfCsv(File.ReadAllBytes(Repository.At("contracts/examples/designs/garden.csv"))).Designs[0];

        Assert.Equal(
            JsonSerializer.Serialize(fact.Deserialize<CircuitDesigned>(WireJson.Strict), WireJson.Strict), JsonSerializer.Serialize(first, WireJson.Strict));
    }
}

using System.Text;
using System.Text.Json;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Tests.Schemas;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Checks;
using FleetLight.Service.Intake;

namespace FleetLight.Contracts.Tests.Examples;

public class ExampleTests
{
    public static TheoryData<string> Types => [.. FactTypes.All.Select(pair => pair.Key)];

    [Fact]
    public void Every_type_of_fact_has_an_example_and_nothing_else_lies_there()
    {
        var expected = FactTypes.All.Select(pair => $"{pair.Key}.json").Order(StringComparer.Ordinal);
        var found = Directory.EnumerateFiles(Repository.At(Example.Folder)).Select(file => Path.GetFileName(file)).Order(StringComparer.Ordinal);
        Assert.Equal(expected, found);
    }

    [Theory]
    [MemberData(nameof(Types))]
    public void An_example_is_valid_by_the_schemas(string type)
    {
        var example = Example.Event(type);
        Assert.Equal(type, example.GetProperty("type").GetString());
        Nothing.In(SchemaSet.Faults(type, example.GetProperty("data")));
        Nothing.In(SchemaSet.Faults(EnvelopeSchema.Name, example));
    }

    [Theory]
    [MemberData(nameof(Types))]
    public void An_example_survives_the_way_into_its_record_and_back(string type)
    {
        var fact = Example.Fact(type);
        var written = JsonSerializer.SerializeToElement(fact, fact.GetType(), WireJson.Strict);
        Assert.True(JsonElement.DeepEquals(Example.Event(type).GetProperty("data"), written), written.ToString());
    }

    [Theory]
    [MemberData(nameof(Types))]
    public void An_example_passes_the_check_of_facts(string type) => Assert.Empty(FactCheck.Check(Example.Fact(type)));

    [Fact]
    public void The_examples_are_taken_as_one_batch()
    {
        var source = Example.All[0].GetProperty("source").GetString()!;
        var batch = $"[{string.Join(',', Example.All)}]";
        var (events, problem) = BatchReader.Read(Encoding.UTF8.GetBytes(batch), batch: true, source);
        Assert.Null(problem);
        Assert.All(events, read => Assert.Null(read.Problem));
        Assert.Equal(Example.All.Count, events.Count(read => read.Fact is not null));
    }

    [Fact]
    public void The_examples_tell_one_job_of_one_device_without_a_gap()
    {
        var times = Example.All.Select(one => one.GetProperty("time").GetDateTimeOffset()).ToList();
        Assert.Equal(times.Order(), times);
        Assert.Equal(Enumerable.Range(1, Example.All.Count), Example.All.Select(one => one.GetProperty(Envelope.RunningNumber).GetInt32()));
        Assert.Single(Example.All.Select(one => one.GetProperty("source").GetString()).Distinct());
        Assert.Single(Example.All.Select(one => one.GetProperty("data").GetProperty("siteId").GetString()).Distinct());
        Assert.Equal(Example.All.Count, Example.All.Select(one => one.GetProperty("id").GetString()).Distinct().Count());
    }
}

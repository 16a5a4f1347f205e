using FleetLight.Contracts.Facts;

namespace FleetLight.Contracts.Tests.Schemas;

public class SchemaFilesTests
{
    private const string Folder = "contracts/schemas";

    public static TheoryData<string> Types => [.. FactTypes.All.Select(pair => pair.Key)];

    [Theory]
    [MemberData(nameof(Types))]
    public void The_schema_of_a_fact_is_the_one_that_its_record_gives(string type) =>
        Approved.Check($"{Folder}/{type}.schema.json", Approved.Text(SchemaWriter.Write(type, FactTypes.Find(type)!)));

    [Fact]
    public void The_schema_of_the_envelope_is_the_one_approved() =>
        Approved.Check($"{Folder}/{EnvelopeSchema.Name}.schema.json", Approved.Text(EnvelopeSchema.Write()));

    [Fact]
    public void No_schema_is_left_without_a_type()
    {
        Assert.SkipWhen(Approved.Writes, "The files are being written.");
        var expected = FactTypes.All.Select(pair => pair.Key).Append(EnvelopeSchema.Name).Select(name => $"{name}.schema.json").Order(StringComparer.Ordinal);
        var found = Directory.EnumerateFiles(Repository.At(Folder)).Select(file => Path.GetFileName(file)).Order(StringComparer.Ordinal);
        Assert.Equal(expected, found);
    }
}

using System.Text.Json;
using FleetLight.Contracts.Wire;

namespace FleetLight.Contracts.Tests.Wire;

public sealed class WordConverterTests
{
    [Fact]
    public void A_word_is_written_and_read_back()
    {
        foreach (var kind in Enum.GetValues<DriveKind>())
        {
            var text = JsonSerializer.Serialize(kind, WireJson.Strict);
            Assert.Matches("^\"[a-z0-9]+(-[a-z0-9]+)*\"$", text);
            Assert.Equal(kind, JsonSerializer.Deserialize<DriveKind>(text, WireJson.Strict));
        }
    }

    [Fact]
    public void A_word_names_a_member_of_a_map_too()
    {
        var map = new Dictionary<DriveKind, int> { [DriveKind.ConstantVoltage] = 3 };
        var text = JsonSerializer.Serialize(map, WireJson.Strict);
        Assert.Equal("""{"constant-voltage":3}""", text);
        Assert.Equal(map, JsonSerializer.Deserialize<Dictionary<DriveKind, int>>(text, WireJson.Strict));
    }

    [Theory]
    [InlineData("\"ConstantVoltage\"")]
    [InlineData("\"constantVoltage\"")]
    [InlineData("\"Constant-Voltage\"")]
    [InlineData("\" constant-voltage\"")]
    [InlineData("\"constant-voltage, constant-current\"")]
    [InlineData("\"1\"")]
    [InlineData("\"\"")]
    [InlineData("1")]
    [InlineData("true")]
    [InlineData("[]")]
    public void Anything_but_the_word_is_refused_by_the_words_that_are_taken(string text)
    {
        var refused = Assert.Throws<JsonException>(() => JsonSerializer.Deserialize<DriveKind>(text, WireJson.Strict));
        Assert.StartsWith(WordConverter.Refusal + "constant-current, constant-voltage", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void The_word_may_be_written_with_escapes() =>
        Assert.Equal(DriveKind.ConstantVoltage, JsonSerializer.Deserialize<DriveKind>("\"\\u0063onstant-voltage\"", WireJson.Strict));
}

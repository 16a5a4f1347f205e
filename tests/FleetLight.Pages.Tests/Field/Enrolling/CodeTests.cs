using FleetLight.Field.Enrolling;
using QRCoder;

namespace FleetLight.Pages.Tests.Field.Enrolling;

/// <summary>One-time codes as typed, as scanned, and read from a picture.</summary>
public sealed class CodeTests
{
    private static readonly Uri Here = new("https://fleetlight.example/field/");

    [Theory]
    [InlineData("7K2M-Q4RT-9XWB", "7K2M-Q4RT-9XWB", null)]
    [InlineData("  7k2mq4rt9xwb ", "7K2MQ4RT9XWB", null)]
    [InlineData("https://fleetlight.example/enrol#7K2M-Q4RT-9XWB", "7K2M-Q4RT-9XWB", null)]
    [InlineData("https://other.example/enrol#7K2M-Q4RT-9XWB", "7K2M-Q4RT-9XWB", "https://other.example")]
    [InlineData("7K2M-Q4RT", "", null)]
    [InlineData("https://fleetlight.example/field/t/duct/d1", "", null)]
    [InlineData(null, "", null)]
    public void A_code_is_read_from_whatever_holds_it(string? text, string code, string? elsewhere) =>
        Assert.Equal(new CodeText(code, elsewhere), CodeText.Read(text, Here));

    [Fact]
    public void The_offices_picture_is_read_from_a_frame()
    {
        const string Text = "https://fleetlight.example/enrol#7K2M-Q4RT-9XWB";
        var (greys, side) = Frame(Text);

        Assert.Equal(Text, FrameReader.Read(greys, side, side));
    }

    [Fact]
    public void A_frame_without_a_code_says_nothing() => Assert.Null(FrameReader.Read([.. Enumerable.Repeat((byte)200, 64 * 64)], 64, 64));

    // Four pixels a module, with the margin that the picture has anyway, on a grey that a camera would see.
    private static (byte[] Greys, int Side) Frame(string text)
    {
        using var code = QRCodeGenerator.GenerateQrCode(text, QRCodeGenerator.ECCLevel.M);
        const int Each = 4;
        var modules = code.ModuleMatrix;
        var side = modules.Count * Each;
        var greys = new byte[side * side];
        for (var at = 0; at < greys.Length; at++)
            greys[at] = modules[at / side / Each][at % side / Each] ? (byte)40 : (byte)210;
        return (greys, side);
    }
}

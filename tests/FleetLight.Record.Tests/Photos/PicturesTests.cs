using FleetLight.Record.Photos;

namespace FleetLight.Record.Tests.Photos;

public sealed class PicturesTests
{
    [Theory]
    [InlineData("FFD8FFE000104A464946", "image/jpeg")]
    [InlineData("89504E470D0A1A0A0000", "image/png")]
    [InlineData("52494646240000005745425056503820", "image/webp")]
    public void A_picture_is_told_by_its_first_bytes(string hex, string mediaType) =>
        Assert.Equal(mediaType, Pictures.MediaTypeOf(Convert.FromHexString(hex)));

    [Theory]
    [InlineData("")]
    [InlineData("FFD8")]
    [InlineData("89504E47")]
    [InlineData("5249464624000000")]
    [InlineData("52494646240000005741564566")]
    [InlineData("3C73766720786D6C6E733D")]
    [InlineData("474946383961")]
    [InlineData("25504446")]
    public void Anything_else_is_none(string hex) => Assert.Null(Pictures.MediaTypeOf(Convert.FromHexString(hex)));
}

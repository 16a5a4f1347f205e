using ZXing;
using ZXing.Common;
using ZXing.QrCode;

namespace FleetLight.Field.Enrolling;

/// <summary>Finds a QR code in a picture. Pure.</summary>
public static class FrameReader
{
    private static readonly Dictionary<DecodeHintType, object> Hints = new() { [DecodeHintType.TRY_HARDER] = true };

    /// <summary>What the code says; none where there is none to be read.</summary>
    /// <param name="greys">Brightness of each pixel, row by row, 0 to 255.</param>
    /// <param name="width">Width, pixels.</param>
    /// <param name="height">Height, pixels.</param>
    public static string? Read(byte[] greys, int width, int height)
    {
        var picture = new BinaryBitmap(new HybridBinarizer(new PlanarYUVLuminanceSource(greys, width, height, 0, 0, width, height, false)));
        return new QRCodeReader().decode(picture, Hints)?.Text;
    }
}

using FleetLight.Labels.Drawing;
using ZXing;
using ZXing.Common;
using ZXing.QrCode;

namespace FleetLight.Labels.Tests;

/// <summary>Puts a drawing on paper of dots, as a printer does, and reads the code on it, as a phone does.</summary>
internal sealed class Raster
{
    private readonly byte[] dots;

    public Raster(LabelDrawing drawing, double dotsPerMillimetre)
    {
        Width = (int)Math.Ceiling(drawing.Width * dotsPerMillimetre);
        Height = (int)Math.Ceiling(drawing.Height * dotsPerMillimetre);
        dots = new byte[Width * Height];
        Array.Fill(dots, byte.MaxValue);
        foreach (var block in drawing.Blocks)
            Fill(block.X, block.Y, block.X + block.Width, block.Y + block.Height, dotsPerMillimetre, (_, _) => true);
        foreach (var line in drawing.Lines)
        {
            for (var i = 1; i < line.Points.Count; i++)
            {
                var (a, b, half) = (line.Points[i - 1], line.Points[i], line.Width / 2);
                Fill(
                    Math.Min(a.X, b.X) - half, Math.Min(a.Y, b.Y) - half, Math.Max(a.X, b.X) + half, Math.Max(a.Y, b.Y) + half, dotsPerMillimetre,
                    (x, y) => Distance(a, b, x, y) <= half);
            }
        }
    }

    public int Width { get; }

    public int Height { get; }

    /// <summary>What the code on it says; none where there is none that can be read.</summary>
    public Result? Read()
    {
        var source = new RGBLuminanceSource(dots, Width, Height, RGBLuminanceSource.BitmapFormat.Gray8);
        return new QRCodeReader().decode(
            new BinaryBitmap(new HybridBinarizer(source)), new Dictionary<DecodeHintType, object> { [DecodeHintType.TRY_HARDER] = true });
    }

    private void Fill(double left, double top, double right, double bottom, double scale, Func<double, double, bool> isInk)
    {
        for (var y = Math.Max(0, (int)Math.Floor(top * scale)); y < Math.Min(Height, (int)Math.Ceiling(bottom * scale)); y++)
        {
            for (var x = Math.Max(0, (int)Math.Floor(left * scale)); x < Math.Min(Width, (int)Math.Ceiling(right * scale)); x++)
            {
                var (atX, atY) = ((x + 0.5) / scale, (y + 0.5) / scale);
                if (atX >= left && atX < right && atY >= top && atY < bottom && isInk(atX, atY)) dots[(y * Width) + x] = 0;
            }
        }
    }

    private static double Distance(Spot a, Spot b, double x, double y)
    {
        var (dx, dy) = (b.X - a.X, b.Y - a.Y);
        var length = (dx * dx) + (dy * dy);
        var t = length == 0 ? 0 : Math.Clamp((((x - a.X) * dx) + ((y - a.Y) * dy)) / length, 0, 1);
        return Math.Sqrt(Math.Pow(x - a.X - (t * dx), 2) + Math.Pow(y - a.Y - (t * dy), 2));
    }
}

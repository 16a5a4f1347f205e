using System.Globalization;
using FleetLight.Contracts;
using FleetLight.Labels.Drawing;
using FleetLight.Labels.Lettering;
using QRCoder;

namespace FleetLight.Labels;

/// <summary>
/// Draws labels: a QR code with the address of the thing, and beside it what people read. The code has error correction M and keeps
/// four modules clear on every side (ISO/IEC 18004). A tape too narrow for a readable code gets a label of text alone, and says so.
/// </summary>
public static class LabelMaker
{
    private const int QuietModules = 4;

    // The first line is larger than the others, by this factor.
    private const double TitleFactor = 1.5;

    // A code need not grow for ever: beyond this side, mm, a phone has to step back.
    private const double MostCodeSide = 20;

    private const double MostTitleCap = 8;

    // What a product of binary fractions is off by must not cut a word.
    private const double Hair = 1e-9;

    /// <summary>The label.</summary>
    public static Label Make(LabelText text, LabelOptions options)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(options);
        var notes = new List<string>();
        var address = text.Address(options.PublicAddress);
        var code = Modules(address);
        var side = code is null ? 0 : ModuleSide(code.Length, options);
        var hasCode = side >= LabelOptions.LeastModuleMillimetres;
        if (code is null) notes.Add("The address is too long for a QR code; the label has text alone.");
        else if (!hasCode)
        {
            notes.Add(string.Create(
                CultureInfo.InvariantCulture,
                $"A QR code on this tape would have modules of {side:0.##} mm; {LabelOptions.LeastModuleMillimetres} mm is the least that is read reliably. ")
                + "The label has text alone: use a wider tape or a shorter address.");
        }

        var blocks = hasCode ? Blocks(code!, side, options.TapeMillimetres) : [];
        var left = hasCode ? ((2 * QuietModules) + code!.Length) * side : EdgeBeside(options);
        var (lines, right) = Write(text, options, left, notes);
        return new Label(
            text, new LabelDrawing(Math.Round(right + EdgeBeside(options), 3), options.TapeMillimetres, blocks, lines), hasCode ? address : null, hasCode ? side : null,
            notes);
    }

    // Clear of the cut at either end of the label.
    private static double EdgeBeside(LabelOptions options) => Math.Max(1.5, options.EdgeMillimetres);

    /// <summary>The largest side of a module, mm: the code clear of the edges that printers leave blank, its quiet zone within the tape.</summary>
    private static double ModuleSide(int modules, LabelOptions options) => new[]
    {
        options.TapeMillimetres / (modules + (2 * QuietModules)), (options.TapeMillimetres - (2 * options.EdgeMillimetres)) / modules, MostCodeSide / modules,
    }.Min();

    private static bool[][]? Modules(string address)
    {
        try
        {
            using var generator = new QRCodeGenerator();
            using var data = generator.CreateQrCode(address, QRCodeGenerator.ECCLevel.M);
            // The library draws the quiet zone into its matrix; ours is measured, not counted.
            var size = data.ModuleMatrix.Count - (2 * QuietModules);
            return [.. Enumerable.Range(0, size).Select(y => Enumerable.Range(0, size).Select(x => data.ModuleMatrix[y + QuietModules][x + QuietModules]).ToArray())];
        }
        catch (QRCoder.Exceptions.DataTooLongException)
        {
            return null;
        }
    }

    // Modules that touch in a row are one block.
    private static List<Block> Blocks(bool[][] code, double side, double tape)
    {
        var top = (tape - (code.Length * side)) / 2;
        var blocks = new List<Block>();
        for (var y = 0; y < code.Length; y++)
        {
            for (var x = 0; x < code.Length; x++)
            {
                if (!code[y][x]) continue;
                var from = x;
                while (x < code.Length && code[y][x]) x++;
                blocks.Add(new Block((QuietModules + from) * side, top + (y * side), (x - from) * side, side));
            }
        }

        return blocks;
    }

    private static (List<Line> Lines, double Right) Write(LabelText text, LabelOptions options, double left, List<string> notes)
    {
        var room = options.TapeMillimetres - (2 * options.EdgeMillimetres);
        var most = options.MostLengthMillimetres - left - EdgeBeside(options);
        string[] wanted = [text.Title, .. text.Lines.Where(line => line.Length > 0)];
        var count = wanted.Length;
        while (count > 1 && Cap(room, count) < LabelOptions.LeastCapMillimetres) count--;
        // Where one line is all there is, it says which end it is for.
        if (count == 1 && text.End is { } end) wanted[0] += end == RunEnd.Near ? " near" : " far";
        string[] shown = [.. wanted.Take(count)];
        // Small enough for the widest line; then what still has no room is cut.
        var cap = Cap(room, count);
        var widest = Widest(cap);
        if (widest > most) cap = Math.Max(LabelOptions.LeastCapMillimetres, cap * most / widest * (1 - Hair));
        shown = [.. shown.Select((line, i) => Writing.Cut(line, CapOf(i, cap), most))];
        if (!shown.SequenceEqual(wanted.Take(count))) notes.Add("Some of the text had no room and was cut.");
        if (count < wanted.Length) notes.Add($"{wanted.Length - count} of {wanted.Length} lines had no room on this tape.");
        if (!wanted.All(Writing.Covers)) notes.Add("Characters that our letters do not have are shown as empty frames.");

        var lines = new List<Line>();
        var top = options.EdgeMillimetres;
        for (var i = 0; i < shown.Length; i++)
        {
            lines.AddRange(Writing.Lines(shown[i], left, top, CapOf(i, cap)));
            top += CapOf(i, cap) * Writing.LineHeights;
        }

        // By what is drawn, not by the room kept for accents and tails, it stands in the middle.
        var drawn = new LabelDrawing(0, 0, [], lines);
        if (drawn.Extent() is { } extent) lines = [.. drawn.Moved(0, (options.TapeMillimetres - extent.Top - extent.Bottom) / 2).Lines];
        return (lines, left + Widest(cap));

        double Widest(double height) => shown.Select((line, i) => Writing.Width(line, CapOf(i, height))).Max();
    }

    /// <summary>Height of capitals of the lines after the first, where so many lines share the height there is, mm.</summary>
    private static double Cap(double room, int lines) => Math.Min(MostTitleCap / TitleFactor, room / (Writing.LineHeights * (TitleFactor + lines - 1)));

    private static double CapOf(int line, double cap) => line == 0 ? cap * TitleFactor : cap;
}

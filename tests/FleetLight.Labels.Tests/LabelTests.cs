using System.Globalization;
using System.Xml.Linq;
using FleetLight.Contracts;
using FleetLight.Labels.Lettering;
using Xunit;
using ZXing;

namespace FleetLight.Labels.Tests;

public sealed class LabelTests
{
    private const string Public = "https://fleetlight.example";

    private static readonly LabelText Duct = new(
        ThingKind.Duct, "d-9f3c2a71", RunEnd.Near, "D 14", ["near end, to Pillar by the steps", "lighting ELV, 50 mm, 24 m"]);

    public static TheoryData<double> Tapes => [6, 9, 12, 18, 24, 36];

    [Theory]
    [MemberData(nameof(Tapes))]
    public void The_code_says_the_address_and_is_read_from_the_drawing(double tape)
    {
        var label = LabelMaker.Make(Duct, Options(tape));

        if (tape < 12)
        {
            Assert.Null(label.Address);
            Assert.Empty(label.Drawing.Blocks);
            Assert.Contains(label.Notes, note => note.Contains("0.25 mm is the least", StringComparison.Ordinal));
            return;
        }

        // Four dots a module: what a camera sees of it at arm's length.
        var read = new Raster(label.Drawing, 4 / label.ModuleMillimetres!.Value).Read();
        Assert.Equal($"{Public}/field/t/duct/d-9f3c2a71", read?.Text);
        Assert.Equal(label.Address, read!.Text);
        Assert.Contains($"{read.ResultMetadata[ResultMetadataType.ERROR_CORRECTION_LEVEL]}", (string[])["M", "Q", "H"]);
    }

    [Theory]
    [MemberData(nameof(Tapes))]
    public void The_label_is_as_high_as_the_tape_and_nothing_leaves_it(double tape)
    {
        foreach (var text in Texts())
        {
            var options = Options(tape);
            var label = LabelMaker.Make(text, options);
            var (left, top, right, bottom) = label.Drawing.Extent()!.Value;

            Assert.Equal(tape, label.Drawing.Height);
            Assert.InRange(label.Drawing.Width, 1, options.MostLengthMillimetres + 0.001);
            Assert.InRange(top, options.EdgeMillimetres - 0.001, tape);
            Assert.InRange(bottom, 0, tape - options.EdgeMillimetres + 0.001);
            Assert.InRange(left, 1, label.Drawing.Width);
            Assert.InRange(right, 0, label.Drawing.Width - 1.4);
        }
    }

    [Theory]
    [MemberData(nameof(Tapes))]
    public void The_code_keeps_four_modules_clear_within_the_label_and_from_the_text(double tape)
    {
        var label = LabelMaker.Make(Duct, Options(tape));
        if (label.ModuleMillimetres is not { } module) return;
        var (left, right) = (label.Drawing.Blocks.Min(block => block.X), label.Drawing.Blocks.Max(block => block.X + block.Width));
        var (top, bottom) = (label.Drawing.Blocks.Min(block => block.Y), label.Drawing.Blocks.Max(block => block.Y + block.Height));
        var modules = (right - left) / module;

        // A code has 17 + 4 × version modules a side (ISO/IEC 18004).
        Assert.Equal(1, Math.Round(modules) % 4);
        Assert.Equal(Math.Round(modules), modules, 6);
        Assert.InRange(module, LabelOptions.LeastModuleMillimetres, 20 / modules + 0.001);
        Assert.InRange(left, (4 * module) - 1e-9, 5 * module);
        Assert.InRange(top, (4 * module) - 1e-9, tape);
        Assert.InRange(bottom, 0, tape - (4 * module) + 1e-9);
        Assert.InRange(label.Drawing.Lines.SelectMany(line => line.Points.Select(spot => spot.X - (line.Width / 2))).Min(), right + (4 * module) - 1e-9, 100);
    }

    [Theory]
    [InlineData(6, 1)]
    [InlineData(9, 2)]
    [InlineData(12, 3)]
    [InlineData(36, 3)]
    public void A_tape_has_as_many_lines_as_can_be_read(double tape, int lines)
    {
        var label = LabelMaker.Make(Duct, Options(tape));

        var cap = label.Drawing.Lines.Select(line => line.Width).Min() * 12 / 1.5;
        Assert.InRange(cap, LabelOptions.LeastCapMillimetres, 100);
        Assert.Equal(3 - lines > 0, label.Notes.Any(note => note.StartsWith($"{3 - lines} of 3 lines", StringComparison.Ordinal)));
    }

    [Fact]
    public void Where_one_line_is_all_there_is_the_ends_still_differ()
    {
        var (near, far) = (LabelMaker.Make(Duct, Options(6)), LabelMaker.Make(Duct with { End = RunEnd.Far }, Options(6)));

        // "far" is the shorter word.
        Assert.True(near.Drawing.Width > far.Drawing.Width);
    }

    [Theory]
    [MemberData(nameof(Tapes))]
    public void What_is_drawn_stands_in_the_middle_of_the_tape(double tape)
    {
        var drawing = LabelMaker.Make(Duct, Options(tape)).Drawing with { Blocks = [] };

        Assert.Equal(tape / 2, (drawing.Extent()!.Value.Top + drawing.Extent()!.Value.Bottom) / 2, 6);
    }

    [Fact]
    public void A_text_that_is_made_smaller_to_fit_is_not_cut_besides() =>
        Assert.DoesNotContain(LabelMaker.Make(Duct, Options(24)).Notes, note => note.Contains("cut", StringComparison.Ordinal));

    [Fact]
    public void A_text_too_long_is_cut_and_says_so()
    {
        var label = LabelMaker.Make(Duct with { Title = new string('M', 200) }, Options(12));

        Assert.Contains(label.Notes, note => note.Contains("cut", StringComparison.Ordinal));
        Assert.InRange(label.Drawing.Width, 0, 90.001);
    }

    [Fact]
    public void An_address_too_long_for_any_code_leaves_the_text()
    {
        var label = LabelMaker.Make(Duct, Options(36) with { PublicAddress = "https://" + new string('a', 4000) });

        Assert.Null(label.Address);
        Assert.NotEmpty(label.Drawing.Lines);
        Assert.Contains(label.Notes, note => note.Contains("too long", StringComparison.Ordinal));
    }

    [Fact]
    public void An_id_with_a_colon_is_written_so_that_the_address_holds() => Assert.Equal(
        $"{Public}/field/t/box/a%3Ab", new LabelText(ThingKind.Box, "a:b", null, "B", []).Address(Public + "/"));

    [Fact]
    public void The_picture_has_the_size_of_the_label_in_millimetres()
    {
        var label = LabelMaker.Make(Duct with { Title = "A < B & C" }, Options(12));

        var svg = XDocument.Parse(label.ToSvg()).Root!;

        Assert.Equal("12mm", svg.Attribute("height")!.Value);
        var width = svg.Attribute("width")!.Value;
        Assert.Equal(label.Drawing.Width, double.Parse(width[..^2], CultureInfo.InvariantCulture), 3);
        Assert.Equal($"0 0 {width[..^2]} 12", svg.Attribute("viewBox")!.Value);
        Assert.Equal("A < B & C", svg.Elements().First().Value);
        Assert.Contains("duct d-9f3c2a71", svg.Elements().ElementAt(1).Value, StringComparison.Ordinal);
        Assert.DoesNotContain(svg.Descendants(), element => element.Name.LocalName is "text" or "image" or "script" or "style");
    }

    [Fact]
    public void Its_path_draws_what_the_drawing_says()
    {
        var label = LabelMaker.Make(Duct, Options(18));
        XNamespace ns = "http://www.w3.org/2000/svg";

        var d = XDocument.Parse(label.ToSvg()).Descendants(ns + "path").First(path => path.Attribute("fill")!.Value == "#000").Attribute("d")!.Value;

        Assert.Equal(label.Drawing.Blocks.Count, d.Count(c => c == 'M'));
        var first = d[1..d.IndexOf('h', StringComparison.Ordinal)].Split(' ').Select(text => double.Parse(text, CultureInfo.InvariantCulture)).ToArray();
        Assert.Equal([label.Drawing.Blocks[0].X, label.Drawing.Blocks[0].Y], first, (a, b) => Math.Abs(a - b) < 0.0006);
    }

    [Fact]
    public void The_letters_cover_what_labels_say_and_an_unknown_one_is_told()
    {
        Assert.True(Writing.Covers("ABCDEFGHIJKLMNOPQRSTUVWXYZ abcdefghijklmnopqrstuvwxyz 0123456789 .,:;!?-_/()[]{}+=*#%&'\"@<>|~^`$\\ äöüÄÖÜßéèñçøåÅŁł²°×Ω"));
        Assert.Contains(LabelMaker.Make(Duct with { Title = "水" }, Options(12)).Notes, note => note.Contains("empty frames", StringComparison.Ordinal));
    }

    [Fact]
    public void No_letter_leaves_its_space()
    {
        for (var c = '!'; c < 'ƀ'; c++)
        {
            if (!Writing.Covers(c.ToString())) continue;
            var width = Writing.Width(c.ToString(), 12);
            foreach (var line in Writing.Lines(c.ToString(), 0, 0, 12))
            {
                Assert.All(line.Points, spot =>
                {
                    Assert.InRange(spot.X, (line.Width / 2) - 1e-9, width - (line.Width / 2) + 1e-9);
                    Assert.InRange(spot.Y, (line.Width / 2) - 1e-9, (12 * Writing.LineHeights) - (line.Width / 2) + 1e-9);
                });
            }
        }
    }

    [Fact]
    public void No_two_letters_look_the_same()
    {
        var seen = new Dictionary<string, char>();
        for (var c = '!'; c < 'ƀ'; c++)
        {
            if (!Writing.Covers(c.ToString())) continue;
            var look = string.Join('|', Writing.Lines(c.ToString(), 0, 0, 12).Select(line => string.Join(' ', line.Points)).Order(StringComparer.Ordinal));
            Assert.True(seen.TryAdd(look, c), $"{c} looks like {seen.GetValueOrDefault(look)}.");
        }
    }

    private static LabelOptions Options(double tape) => new() { PublicAddress = Public, TapeMillimetres = tape };

    private static IEnumerable<LabelText> Texts()
    {
        yield return Duct;
        yield return Duct with { Lines = [] };
        yield return Duct with { Title = "Åjgpq|_{}", Lines = ["ÄÖÜ", "j"] };
        yield return Duct with { Title = new string('W', 80), Lines = [new string('i', 200), new string('m', 200), "four", "five"] };
        yield return Duct with { Title = "x" };
    }
}

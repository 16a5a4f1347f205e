using FleetLight.OpenData.Cql;
using FleetLight.OpenData.Features;
using FsCheck;
using FsCheck.Fluent;
using FsCheck.Xunit;
using Xunit;

namespace FleetLight.OpenData.Tests.Cql;

public sealed class ReaderTests
{
    [Property(MaxTest = 2_000)]
    public Property Written_and_read_again_a_filter_is_the_same() =>
        Prop.ForAll(Gen.Elements(FeatureKinds.All.ToArray()).SelectMany(kind => Filters.Of(kind, 4)).ToArbitrary(), test =>
        {
            string text = CqlWriter.Write(test);
            Assert.True(CqlReader.TryRead(text, out CqlTest? read, out CqlFault? fault), $"{text}: {fault}");
            Assert.Equal(test, read);
            Assert.Equal(text, CqlWriter.Write(read!));
        });

    [Property(MaxTest = 3_000)]
    public Property Any_text_is_read_or_refused_with_its_place() =>
        Prop.ForAll(ArbMap.Default.GeneratorFor<string>().ToArbitrary(), text => IsReadOrRefused(text ?? ""));

    [Property(MaxTest = 3_000)]
    public Property A_spoilt_filter_is_read_or_refused_with_its_place() => Prop.ForAll(
        (from test in Filters.Of(FeatureKinds.Circuits)
         from at in Gen.Choose(0, 400)
         from put in Gen.Elements("", "(", ")", "'", "\"", " AND ", "NOT", ",", "1e999", "-", ".", "\0", "\uD83D", "POLYGON((", "T_AFTER(", "<", "é")
         from cut in Gen.Choose(0, 3)
         let text = CqlWriter.Write(test)
         let start = at % (text.Length + 1)
         select text[..start] + put + text[Math.Min(text.Length, start + cut)..]).ToArbitrary(),
        IsReadOrRefused);

    [Theory]
    [InlineData("verdict =", 9, "ends where")]
    [InlineData("verdict = 'outside' AND", 23, "ends where")]
    [InlineData("verdict ! 'outside'", 8, "means nothing")]
    [InlineData("verdict = 'outside", 10, "no closing")]
    [InlineData("(verdict = 'outside'", 20, "')' is wanted")]
    [InlineData("verdict = 'outside')", 19, "not expected")]
    [InlineData("fittings = 1.2.3", 11, "no number")]
    [InlineData("lastReadAt > TIMESTAMP('yesterday')", 23, "an instant")]
    [InlineData("S_WITHIN(geometry, POINT(1 2))", 0, "S_INTERSECTS is")]
    [InlineData("S_INTERSECTS(geometry, CIRCLE(1 2))", 23, "no shape CIRCLE")]
    [InlineData("S_INTERSECTS(geometry, POLYGON((0 0, 1 0, 1 1)))", 23, "four positions")]
    [InlineData("S_INTERSECTS(geometry, BBOX(1, 2, 3))", 23, "four numbers")]
    [InlineData("T_SOON(lastReadAt, DATE('2026-01-01'))", 0, "not taken here")]
    [InlineData("lower(name) = 'x'", 0, "no function lower")]
    public void A_filter_that_cannot_be_read_is_refused_at_its_place(string text, int at, string says)
    {
        Assert.False(CqlReader.TryRead(text, out _, out CqlFault? fault));
        Assert.Equal(at, fault!.At);
        Assert.Contains(says, fault.Says, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("colour = 'red'", 0, "no property 'colour'")]
    [InlineData("fittings = 'red'", 11, "a number")]
    [InlineData("name > 3", 7, "a text")]
    [InlineData("name BETWEEN 'a' AND 3", 21, "a text")]
    [InlineData("fittings LIKE 'a'", 0, "a text")]
    [InlineData("name", 0, "TRUE or FALSE")]
    [InlineData("lastReadAt > 'x'", 13, "TIMESTAMP")]
    [InlineData("T_DURING(lastReadAt, DATE('2026-01-01'))", 21, "INTERVAL")]
    [InlineData("S_INTERSECTS(name, POINT(1 2))", 13, "'geometry'")]
    [InlineData("S_INTERSECTS(geometry, BBOX(3, 0, 1, 1))", 23, "least x")]
    [InlineData("lastReadAt = INTERVAL('2026-01-01', '..')", 13, "interval")]
    public void A_filter_that_cannot_be_asked_is_refused_at_its_place(string text, int at, string says)
    {
        Assert.True(CqlReader.TryRead(text, out CqlTest? test, out CqlFault? wrong), wrong?.ToString());
        CqlFault fault = CqlCheck.Check(test!, FeatureKinds.Circuits)!;
        Assert.Equal(at, fault.At);
        Assert.Contains(says, fault.Says, StringComparison.Ordinal);
    }

    [Fact]
    public void Depth_and_length_are_bounded()
    {
        Assert.False(CqlReader.TryRead(new string('(', 5_000), out _, out CqlFault? deep));
        Assert.Contains("deep", deep!.Says, StringComparison.Ordinal);
        Assert.False(CqlReader.TryRead(string.Concat(Enumerable.Repeat("NOT ", 1_900)), out _, out deep));
        Assert.Contains("deep", deep!.Says, StringComparison.Ordinal);
        Assert.False(CqlReader.TryRead(new string('a', CqlReader.MostLetters + 1), out _, out _));
        // A long row of the same word is no depth.
        string row = string.Join(" AND ", Enumerable.Repeat("a=1", 900));
        Assert.True(CqlReader.TryRead(row, out CqlTest? test, out _));
        Assert.DoesNotContain("((", CqlWriter.Write(test!), StringComparison.Ordinal);
    }

    private static void IsReadOrRefused(string text)
    {
        if (CqlReader.TryRead(text, out CqlTest? test, out CqlFault? fault))
        {
            Assert.NotNull(test);
            foreach (FeatureKind kind in FeatureKinds.All)
            {
                if (CqlCheck.Check(test, kind) is { } wrong) Assert.InRange(wrong.At, 0, text.Length);
            }
        }
        else
        {
            Assert.InRange(fault!.At, 0, text.Length);
            Assert.NotEmpty(fault.Says);
        }
    }
}

using System.Text;
using System.Text.Json;
using FleetLight.Contracts.Proofs;

namespace FleetLight.Record.Tests.Ledger;

/// <summary>RFC 8785, sections 3.2 and appendix B: its examples, from memory.</summary>
public sealed class CanonicalJsonTests
{
    [Fact]
    public void The_examples_of_the_standard_come_out_as_it_says()
    {
        Assert.Equal(
            """{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\u000f\nA'B\"\\\\\"/"}""",
            Canonical(
                """
                {
                  "numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
                  "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/",
                  "literals": [null, true, false]
                }
                """));
        using JsonDocument sorted = JsonDocument.Parse(Canonical(
            """
            {"\u20ac":"Euro Sign","\r":"Carriage Return","\ufb33":"Hebrew Letter Dalet With Dagesh","1":"One",
             "\ud83d\ude00":"Emoji: Grinning Face","\u0080":"Control","\u00f6":"Latin Small Letter O With Diaeresis"}
            """));
        Assert.Equal(
            ["Carriage Return", "One", "Control", "Latin Small Letter O With Diaeresis", "Euro Sign", "Emoji: Grinning Face", "Hebrew Letter Dalet With Dagesh"],
            sorted.RootElement.EnumerateObject().Select(member => member.Value.GetString()));
    }

    [Theory]
    [InlineData(0x0000000000000000, "0")]
    [InlineData(0x8000000000000000, "0")]
    [InlineData(0x0000000000000001, "5e-324")]
    [InlineData(0x8000000000000001, "-5e-324")]
    [InlineData(0x7fefffffffffffff, "1.7976931348623157e+308")]
    [InlineData(0xffefffffffffffff, "-1.7976931348623157e+308")]
    [InlineData(0x4340000000000000, "9007199254740992")]
    [InlineData(0xc340000000000000, "-9007199254740992")]
    [InlineData(0x4430000000000000, "295147905179352830000")]
    [InlineData(0x44b52d02c7e14af5, "9.999999999999997e+22")]
    [InlineData(0x44b52d02c7e14af6, "1e+23")]
    [InlineData(0x44b52d02c7e14af7, "1.0000000000000001e+23")]
    [InlineData(0x444b1ae4d6e2ef4e, "999999999999999700000")]
    [InlineData(0x444b1ae4d6e2ef4f, "999999999999999900000")]
    [InlineData(0x444b1ae4d6e2ef50, "1e+21")]
    [InlineData(0x3eb0c6f7a0b5ed8c, "9.999999999999997e-7")]
    [InlineData(0x3eb0c6f7a0b5ed8d, "0.000001")]
    [InlineData(0x41b3de4355555553, "333333333.3333332")]
    [InlineData(0x41b3de4355555554, "333333333.33333325")]
    [InlineData(0x41b3de4355555555, "333333333.3333333")]
    [InlineData(0x41b3de4355555556, "333333333.3333334")]
    [InlineData(0x41b3de4355555557, "333333333.33333343")]
    [InlineData(0xbecbf647612f3696, "-0.0000033333333333333333")]
    [InlineData(0x43143ff3c1cb0959, "1424953923781206.2")]
    public void Numbers_are_written_as_the_standard_lists_them(ulong bits, string text) =>
        Assert.Equal(text, CanonicalJson.NumberText(BitConverter.UInt64BitsToDouble(bits)));

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void What_is_no_number_of_JSON_is_refused(double value) => Assert.Throws<ArgumentOutOfRangeException>(() => CanonicalJson.NumberText(value));

    [Fact]
    public void Every_double_reads_back_as_itself()
    {
        Random random = new(20260);
        for (int run = 0; run < 20_000; run++)
        {
            double value = BitConverter.Int64BitsToDouble(random.NextInt64(long.MinValue, long.MaxValue));
            if (!double.IsFinite(value)) continue;
            Assert.Equal(value, double.Parse(CanonicalJson.NumberText(value), System.Globalization.CultureInfo.InvariantCulture));
        }
    }

    [Fact]
    public void Order_and_white_space_make_no_difference_and_the_form_is_its_own_canonical_form()
    {
        string one = Canonical("""{"b":[1,{"z":"ü","a":1.0}],"a":"\u0007"}""");
        Assert.Equal("""{"a":"\u0007","b":[1,{"a":1,"z":"ü"}]}""", one);
        Assert.Equal(one, Canonical(""" { "a" : "\u0007" , "b" : [ 1.00 , { "a" : 1e0 , "z" : "\u00fc" } ] } """));
        Assert.Equal(one, Canonical(one));
    }

    private static string Canonical(string json)
    {
        using JsonDocument document = JsonDocument.Parse(json);
        return Encoding.UTF8.GetString(CanonicalJson.Of(document.RootElement));
    }
}

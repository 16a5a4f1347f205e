using System.Text;

namespace FleetLight.Endurance.Tests.Fuzz;

/// <summary>Values at and beyond the edges of what formats and machines hold.</summary>
internal static class Hostile
{
    private static readonly string[] Long = [new('a', 129), new('x', 10_000), new('é', 5_000), string.Concat(Enumerable.Repeat("\U0001F6A8", 2_000))];

    /// <summary>Texts, as they are meant.</summary>
    public static readonly string[] Texts =
    [
        "", " ", "\0", "a\0b", "\r\n", "a\r\nSet-Cookie: x=1", "\t", "\u0001", "\u001b[31m", "\u202eabc", "\ufeff", "\uffff", "﷽", "e\u0301\u0301\u0301",
        "'", "\"", "\\", "'; drop table facts; --", "1' or '1'='1", "$1", "%00", "%2e%2e%2f", "../../etc/passwd", "..\\..\\x", "/", "//", "?", "#", "*",
        "{id}", "{0}", "%s%n", "${x}", "<script>alert(1)</script>", "null", "true", "NaN", "-1", "0", "1e999", "9223372036854775808",
        "0001-01-01T00:00:00Z", "9999-12-31T23:59:59.9999999Z", "9999-12-31T23:59:59-23:59", "0001-01-01T00:00:00+14:00", "2016-12-31T23:59:60Z",
        "2026-02-30T00:00:00Z", "1970-01-01T00:00:00Z", "-0001-01-01T00:00:00Z", "2026-13-01T25:61:61Z", "20260101", "now", "12-", "-12", "1-2-3",
        "99999999999999999999-1", "9223372036854775807-2147483647", "urn:uuid:00000000-0000-0000-0000-000000000000", "alert:x", "judging:settings", "a:b",
        .. Long,
    ];

    /// <summary>Pieces of JSON text, some of which are none.</summary>
    public static readonly string[] Tokens =
    [
        "null", "true", "false", "[]", "{}", "[[]]", "[null]", "{\"\":0}", "0", "-0", "-1", "1", "0.1", "1e0", "1E+2", "2147483647", "2147483648", "-2147483649",
        "9007199254740993", "9223372036854775807", "9223372036854775808", "1e308", "-1e308", "1.7976931348623157e308", "1e309", "1e400", "-1e400", "5e-324", "1e-400",
        "1e2147483648", "NaN", "Infinity", "-Infinity", "+1", "01", "1.", ".5", "0x10", "1_000", "--1", "\"\\ud800\"", "\"\\udc00x\"", "\"\\u0000\"", "\"\\x\"",
        "\"unclosed", "'single'", "undefined", "/*c*/1", "[1,]", "{\"a\":1,}", "{\"a\":1,\"a\":2}", "[", "{", "\"a\"\"b\"", "", " ",
        new('9', 400), "0." + new string('1', 4_000), "\"" + new string('z', 10_000) + "\"", Nested('[', ']', 20), Nested('[', ']', 40), Nested('[', ']', 2_000),
        Objects(31), Objects(33), Objects(700), "[" + string.Join(',', Enumerable.Repeat("0", 3_000)) + "]",
    ];

    /// <summary>Bytes that are no UTF-8, or are where none should be.</summary>
    public static readonly byte[][] Bytes =
    [
        [0xC0, 0xAF], [0xE0, 0x80, 0xAF], [0xF0, 0x80, 0x80, 0xAF], [0xED, 0xA0, 0x80], [0xF4, 0x90, 0x80, 0x80], [0xFF], [0xFE, 0xFF], [0x80], [0xC3], [0x00],
        [0xEF, 0xBB, 0xBF], [0x1F, 0x8B, 0x08], [0x0D], [0x0A], [0x7F],
    ];

    /// <summary>One of them.</summary>
    public static T Of<T>(Random dice, IReadOnlyList<T> all) => all[dice.Next(all.Count)];

    private static string Nested(char open, char close, int depth) => new string(open, depth) + new string(close, depth);

    private static string Objects(int depth)
    {
        StringBuilder text = new();
        for (int level = 0; level < depth; level++) text.Append("{\"a\":");
        return text.Append('0').Append('}', depth).ToString();
    }
}

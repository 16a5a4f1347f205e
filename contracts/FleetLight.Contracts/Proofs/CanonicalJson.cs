using System.Buffers;
using System.Globalization;
using System.Text;
using System.Text.Json;

namespace FleetLight.Contracts.Proofs;

/// <summary>
/// JSON in its one canonical form (RFC 8785, JCS): members in the order of their names' UTF-16 units, no white space, numbers as
/// ECMAScript writes them, text in UTF-8 with the fewest escapes. Whoever has the same value gets the same bytes.
/// </summary>
public static class CanonicalJson
{
    private static readonly SearchValues<char> Escaped = SearchValues.Create(
        "\"\\\u0000\u0001\u0002\u0003\u0004\u0005\u0006\u0007\u0008\u0009\u000a\u000b\u000c\u000d\u000e\u000f"
        + "\u0010\u0011\u0012\u0013\u0014\u0015\u0016\u0017\u0018\u0019\u001a\u001b\u001c\u001d\u001e\u001f");

    /// <summary>The canonical bytes of a value.</summary>
    public static byte[] Of(JsonElement value)
    {
        var text = new ArrayBufferWriter<byte>(512);
        Write(text, value);
        return text.WrittenSpan.ToArray();
    }

    /// <summary>Writes a value.</summary>
    public static void Write(IBufferWriter<byte> into, JsonElement value)
    {
        switch (value.ValueKind)
        {
            case JsonValueKind.Object:
                Members(into, [.. value.EnumerateObject()]);
                break;
            case JsonValueKind.Array:
                var first = true;
                into.Write("["u8);
                foreach (var item in value.EnumerateArray())
                {
                    if (!first) into.Write(","u8);
                    first = false;
                    Write(into, item);
                }

                into.Write("]"u8);
                break;
            case JsonValueKind.String:
                Text(into, value.GetString()!);
                break;
            case JsonValueKind.Number:
                Number(into, value.GetDouble());
                break;
            default:
                into.Write(value.ValueKind switch { JsonValueKind.True => "true"u8, JsonValueKind.False => "false"u8, _ => "null"u8 });
                break;
        }
    }

    /// <summary>Writes an object of these members.</summary>
    public static void Members(IBufferWriter<byte> into, List<JsonProperty> members)
    {
        members.Sort((one, other) => string.CompareOrdinal(one.Name, other.Name));
        into.Write("{"u8);
        for (var index = 0; index < members.Count; index++)
        {
            if (index > 0) into.Write(","u8);
            Text(into, members[index].Name);
            into.Write(":"u8);
            Write(into, members[index].Value);
        }

        into.Write("}"u8);
    }

    /// <summary>Writes a text. A surrogate without its other half has no UTF-8 form and is refused.</summary>
    public static void Text(IBufferWriter<byte> into, string text)
    {
        into.Write("\""u8);
        var rest = text.AsSpan();
        while (rest.Length > 0)
        {
            var plain = rest.IndexOfAny(Escaped) is var at and >= 0 ? at : rest.Length;
            if (plain > 0)
            {
                var room = into.GetSpan(Strict.GetMaxByteCount(plain));
                into.Advance(Strict.GetBytes(rest[..plain], room));
            }

            if (plain < rest.Length) into.Write(Encoding.ASCII.GetBytes(EscapeOf(rest[plain])));
            rest = rest[Math.Min(plain + 1, rest.Length)..];
        }

        into.Write("\""u8);
    }

    /// <summary>Writes a number.</summary>
    public static void Number(IBufferWriter<byte> into, double value) => into.Write(Encoding.ASCII.GetBytes(NumberText(value)));

    /// <summary>
    /// A number as ECMAScript writes it (ECMA-262, Number::toString): the fewest digits that read back as the same double.
    /// </summary>
    public static string NumberText(double value)
    {
        if (!double.IsFinite(value)) throw new ArgumentOutOfRangeException(nameof(value), "JSON has no such number.");
        if (value == 0) return "0";
        var (digits, point) = Shortest(Math.Abs(value));
        var sign = value < 0 ? "-" : "";
        // Up to 21 digits before the point and six zeros behind it are written out.
        if (point is > 0 and <= 21)
            return sign + (digits.Length <= point ? digits + new string('0', point - digits.Length) : $"{digits[..point]}.{digits[point..]}");
        if (point is > -6 and <= 0) return $"{sign}0.{new string('0', -point)}{digits}";
        var exponent = (point - 1).ToString("+0;-0", CultureInfo.InvariantCulture);
        return $"{sign}{digits[0]}{(digits.Length > 1 ? "." : "")}{digits[1..]}e{exponent}";
    }

    // The value is 0.digits times ten to the point.
    private static (string Digits, int Point) Shortest(double value)
    {
        var text = value.ToString("R", CultureInfo.InvariantCulture);
        var exponent = 0;
        if (text.IndexOf('E', StringComparison.Ordinal) is var mark and >= 0)
        {
            exponent = int.Parse(text.AsSpan(mark + 1), NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture);
            text = text[..mark];
        }

        var dot = text.IndexOf('.', StringComparison.Ordinal);
        var digits = dot < 0 ? text : text.Remove(dot, 1);
        var point = (dot < 0 ? text.Length : dot) + exponent;
        var zeros = digits.Length - digits.TrimStart('0').Length;
        return (digits[zeros..].TrimEnd('0'), point - zeros);
    }

    private static string EscapeOf(char letter) => letter switch
    {
        '"' => "\\\"",
        '\\' => "\\\\",
        '\b' => "\\b",
        '\f' => "\\f",
        '\n' => "\\n",
        '\r' => "\\r",
        '\t' => "\\t",
        _ => $"\\u{(int)letter:x4}",
    };

    private static readonly UTF8Encoding Strict = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);
}

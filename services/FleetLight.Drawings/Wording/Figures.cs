using System.Globalization;
using System.Text.RegularExpressions;
using FleetLight.Contracts;
using FleetLight.Contracts.Calculations;

namespace FleetLight.PageParts.Wording;

/// <summary>How figures are written on the pages: as many places as a meter shows, the unit behind, never alone.</summary>
public static partial class Figures
{
    /// <summary>A figure of a reading with its unit.</summary>
    public static string Of(double value, ReadingQuantity quantity) => $"{Number(value, PlacesOf(quantity))} {UnitOf(quantity)}";

    /// <summary>A figure of a measurement with its unit; of a look at a fitting the words.</summary>
    public static string Of(double value, MeasuredAs quantity) => quantity switch
    {
        MeasuredAs.VoltsDc => Of(value, ReadingQuantity.VoltsDc),
        MeasuredAs.Milliamps => Of(value, ReadingQuantity.Milliamps),
        MeasuredAs.LoopOhms => Of(value, ReadingQuantity.LoopOhms),
        MeasuredAs.MegohmsInsulation => $"{Number(value, 2)} MΩ",
        _ => value >= 0.5 ? "lit" : "dark",
    };

    /// <summary>An interval with its unit, for instance <c>11.80 to 12.60 V</c>.</summary>
    public static string Between(double low, double high, ReadingQuantity quantity) =>
        $"{Number(low, PlacesOf(quantity))} to {Of(high, quantity)}";

    /// <summary>The unit of a quantity.</summary>
    public static string UnitOf(ReadingQuantity quantity) => quantity switch
    {
        ReadingQuantity.Milliamps => "mA",
        ReadingQuantity.LoopOhms => "Ω",
        _ => "V",
    };

    /// <summary>A number without needless noughts at its end, with at most so many decimals.</summary>
    public static string Plain(double value, int mostPlaces = 2) =>
        Signed(value.ToString("0." + new string('#', mostPlaces), CultureInfo.InvariantCulture));

    /// <summary>A share, 0 to 1, in percent; what is less than 1 % is told so.</summary>
    public static string Percent(double share) => share switch
    {
        > 0 and < 0.01 => "less than 1 %",
        > 0.99 and < 1 => "more than 99 %",
        _ => $"{Number(share * 100, 0)} %",
    };

    /// <summary>Reads a number as people type it: with a comma or a point, with or without a sign; false where the text is none.</summary>
    public static bool TryRead(string? text, out double value)
    {
        var plain = (text ?? "").Trim().Replace(',', '.').Replace('−', '-');
        return double.TryParse(plain, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out value);
    }

    /// <summary>A sentence in which no line breaks between a figure, its unit and what it may be off by.</summary>
    public static string Unbroken(string text) => BeforeUnit().Replace(text, "\u00a0");

    [GeneratedRegex(@"(?<=\d) (?=(?:mm²?|cm|m|mA|V|W|Ω|MΩ|%|°)(?!\w))|(?<=[\dm]) (?=±)|(?<=±) ")]
    private static partial Regex BeforeUnit();

    private static int PlacesOf(ReadingQuantity quantity) => quantity == ReadingQuantity.Milliamps ? 0 : 2;

    private static string Number(double value, int places) => Signed(value.ToString("F" + places.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture));

    // The true minus sign: a hyphen is easily overlooked, and plus and minus are what is at stake.
    private static string Signed(string number) => number.StartsWith('-') ? "−" + number[1..] : number;
}

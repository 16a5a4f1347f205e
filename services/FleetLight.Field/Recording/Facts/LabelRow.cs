using System.Globalization;

namespace FleetLight.Field.Recording.Facts;

/// <summary>Labels that count up. Pure.</summary>
public static class LabelRow
{
    /// <summary>The label after the highest of those that end with a number and begin alike; none where there is no such row.</summary>
    public static string? Next(IEnumerable<string> labels)
    {
        var counted = labels.Select(Split).Where(label => label.Digits > 0).ToArray();
        if (counted.Length == 0) return null;
        // The row that has most labels, so that one odd label does not lead away from it.
        var row = counted.GroupBy(label => label.Before, StringComparer.OrdinalIgnoreCase).MaxBy(group => group.Count())!;
        var highest = row.MaxBy(label => label.Number);
        return highest.Before + (highest.Number + 1).ToString(CultureInfo.InvariantCulture).PadLeft(highest.Digits, '0');
    }

    private static (string Before, int Number, int Digits) Split(string label)
    {
        var digits = 0;
        // Six digits are a row; more are a serial number.
        while (digits < label.Length && digits < 7 && char.IsAsciiDigit(label[^(digits + 1)])) digits++;
        return digits is > 0 and < 7 ? (label[..^digits], int.Parse(label[^digits..], CultureInfo.InvariantCulture), digits) : (label, 0, 0);
    }
}

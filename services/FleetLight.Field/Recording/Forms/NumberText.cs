using System.Globalization;

namespace FleetLight.Field.Recording.Forms;

/// <summary>Numbers as people type them on a phone: with a comma or a point, with or without a sign. Pure.</summary>
public static class NumberText
{
    /// <summary>Reads a number; false where the text is none.</summary>
    public static bool TryRead(string? text, out double value)
    {
        var plain = (text ?? "").Trim().Replace(',', '.').Replace('−', '-');
        return double.TryParse(plain, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out value);
    }

    /// <summary>A number as it stands in a field.</summary>
    public static string Of(double value) => value.ToString("0.######", CultureInfo.InvariantCulture);
}

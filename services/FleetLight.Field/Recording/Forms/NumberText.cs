using System.Globalization;

namespace FleetLight.Field.Recording.Forms;

/// <summary>Numbers as they stand in the fields of forms; <see cref="FleetLight.PageParts.Wording.Figures.TryRead"/> reads what people type. Pure.</summary>
public static class NumberText
{
    /// <summary>A number as it stands in a field.</summary>
    public static string Of(double value) => value.ToString("0.######", CultureInfo.InvariantCulture);
}

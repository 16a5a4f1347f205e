using System.Globalization;
using System.Text.RegularExpressions;

namespace FleetLight.PageParts.Designing;

/// <summary>Says where on a sheet something stands.</summary>
public static partial class SheetWords
{
    /// <summary>A path in words: <c>fittings[2].ratedWatts</c> is "Fitting 3, power".</summary>
    public static string Where(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        var match = InRow().Match(path);
        if (match.Success)
        {
            var isFitting = match.Groups["list"].Value == "fittings";
            var number = int.Parse(match.Groups["index"].Value, CultureInfo.InvariantCulture) + 1;
            var label = Label(isFitting ? SheetFields.Fitting : SheetFields.Run, match.Groups["member"].Value);
            return $"{(isFitting ? "Fitting" : "Run")} {number}{(label is null ? "" : $", {Small(label)}")}";
        }

        const string driver = "driver.";
        if (path.StartsWith(driver, StringComparison.Ordinal)) return $"Driver, {Small(Label(SheetFields.Driver, path[driver.Length..]) ?? path)}";
        return path switch
        {
            "fittings" => "Fittings",
            "runs" => "Runs",
            _ => Label(SheetFields.Head, path) ?? "The design",
        };
    }

    private static string? Label(IReadOnlyList<SheetField> fields, string member) => fields.FirstOrDefault(field => field.Member == member)?.Label;

    private static string Small(string label) => char.ToLowerInvariant(label[0]) + label[1..];

    [GeneratedRegex(@"^(?<list>fittings|runs)\[(?<index>[0-9]+)\]\.?(?<member>.*)$")]
    private static partial Regex InRow();
}

using System.Globalization;

namespace FleetLight.PageParts.SitePages;

/// <summary>Names as people order them: D2 before D10.</summary>
public static class NaturalOrder
{
    /// <summary>Compares two names.</summary>
    public static IComparer<string> Comparer { get; } = CultureInfo.InvariantCulture.CompareInfo.GetStringComparer(CompareOptions.NumericOrdering | CompareOptions.IgnoreCase);
}

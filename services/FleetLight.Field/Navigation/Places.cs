namespace FleetLight.Field.Navigation;

/// <summary>A place of the page's bottom line.</summary>
/// <param name="Address">Its address within the page.</param>
/// <param name="Word">The one word that stands there.</param>
/// <param name="Says">What is there, for who cannot see it.</param>
public sealed record Place(string Address, string Word, string Says)
{
    /// <summary>Whether an address within the page belongs to it.</summary>
    public bool Holds(string address) => Address.Length == 0
        ? address.Length == 0 || address.StartsWith("record", StringComparison.Ordinal)
        : address == Address || address.StartsWith(Address + "/", StringComparison.Ordinal);
}

/// <summary>The places of the bottom line: four at most, so that each stays wide enough for a glove.</summary>
public static class Places
{
    /// <summary>All, from left to right.</summary>
    public static IReadOnlyList<Place> All { get; } =
    [
        new("", "Record", "Record what you just did"),
        new("measure", "Measure", "Measure a circuit and see what it says"),
        new("built", "Built", "What is built on this site"),
        new("leave", "Leave", "What is open before you leave"),
    ];
}

using System.Globalization;

namespace FleetLight.Benchmarks.LargeFleet;

/// <summary>How large the fleet is.</summary>
/// <param name="Sites">Sites.</param>
/// <param name="Circuits">Circuits, evenly over the sites.</param>
/// <param name="Facts">Facts altogether: a whole job a circuit, and readings for the rest.</param>
internal sealed record FleetSize(int Sites, int Circuits, int Facts)
{
    /// <summary>
    /// By <c>FLEETLIGHT_BENCH_SITES</c>, <c>_CIRCUITS</c> and <c>_FACTS</c>; small where they are not set. 500, 20000 and 2000000 are a large contractor's.
    /// </summary>
    public static FleetSize Given { get; } = new(Read("SITES", 20), Read("CIRCUITS", 400), Read("FACTS", 20_000));

    private static int Read(string name, int otherwise) =>
        int.TryParse(Environment.GetEnvironmentVariable($"FLEETLIGHT_BENCH_{name}"), CultureInfo.InvariantCulture, out var given) ? given : otherwise;

    /// <summary>The circuits with their sites.</summary>
    public (string Site, string Circuit)[] All => [.. Enumerable.Range(0, Circuits).Select(index => (SiteOf(index % Sites), $"k{index}"))];

    /// <summary>A site's id.</summary>
    public static string SiteOf(int index) => string.Create(CultureInfo.InvariantCulture, $"s{index}");
}

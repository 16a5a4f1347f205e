using System.Globalization;

namespace FleetLight.Electrics.Tests.Spice;

/// <summary>The seed of all generated circuits; <c>FLEETLIGHT_SPICE_SEED</c> sets another.</summary>
internal static class Seed
{
    public static int Value { get; } = int.TryParse(
        Environment.GetEnvironmentVariable("FLEETLIGHT_SPICE_SEED"), CultureInfo.InvariantCulture, out var seed) ? seed : 1;
}

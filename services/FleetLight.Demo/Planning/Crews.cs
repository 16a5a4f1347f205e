namespace FleetLight.Demo.Planning;

/// <summary>A device that records facts.</summary>
/// <param name="Name">Short name.</param>
/// <param name="ClockError">How far its clock is ahead of the true time.</param>
/// <param name="BetterMeter">Whether the meter beside it is a bench-grade one.</param>
internal sealed record Device(string Name, TimeSpan ClockError, bool BetterMeter = false)
{
    /// <summary>Its source in the envelope.</summary>
    public string Source => "urn:fleetlight:device:" + Name;

    /// <summary>What its clock shows at a true time.</summary>
    public DateTimeOffset Shows(DateTimeOffset trueTime) => trueTime + ClockError;
}

/// <summary>A crew and the phone that it records with.</summary>
/// <param name="Name">Name of the crew.</param>
/// <param name="Phone">Its phone.</param>
internal sealed record Crew(string Name, Device Phone);

/// <summary>The invented contractor's people and devices.</summary>
internal static class Crews
{
    /// <summary>The contractor. Invented, as everything here is.</summary>
    public const string Contractor = "Ellmarsh Garden Lighting";

    /// <summary>The town. Invented.</summary>
    public const string Town = "Ellmarsh";

    /// <summary>The foreman's tablet: sites, designs, handovers, corrections.</summary>
    public static Device Tablet { get; } = new("foreman-tablet", TimeSpan.FromSeconds(-8));

    /// <summary>The test rig: tests, and readings when a circuit is proven.</summary>
    public static Device Rig { get; } = new("test-rig", TimeSpan.FromSeconds(4), BetterMeter: true);

    /// <summary>The three crews. The phone of crew Birch has a wrong clock, as phones without a network do.</summary>
    public static IReadOnlyList<Crew> All { get; } =
    [
        new("Amber", new Device("crew-amber-phone", TimeSpan.FromSeconds(12))),
        new("Birch", new Device("crew-birch-phone", new TimeSpan(27, 0, 0))),
        new("Cedar", new Device("crew-cedar-phone", TimeSpan.FromSeconds(-35))),
    ];

    /// <summary>All devices.</summary>
    public static IReadOnlyList<Device> Devices { get; } = [.. All.Select(crew => crew.Phone), Tablet, Rig];

    /// <summary>The organisation under which a seed's fleet is kept.</summary>
    public static string OrganisationOf(long seed) => $"ellmarsh-{seed}";
}

using System.Collections.Concurrent;
using FleetLight.Demo.Planning;
using FleetLight.Demo.Works;

namespace FleetLight.Demo.Tests;

/// <summary>Fleets and what is often asked of them.</summary>
internal static class Some
{
    /// <summary>A day in autumn, when readings run a little high.</summary>
    public static readonly DateTimeOffset Anchor = new(2026, 11, 2, 0, 0, 0, TimeSpan.Zero);

    private static readonly ConcurrentDictionary<long, Fleet> Fleets = new();

    /// <summary>The fleet of a seed; inventing it takes a moment, so tests share it.</summary>
    public static Fleet Fleet(long seed = 1) => Fleets.GetOrAdd(seed, each => Demo.Works.Fleet.Of(each, Anchor));

    /// <summary>Everything that the fleet's devices recorded.</summary>
    public static IEnumerable<Entry> Entries(this Fleet fleet) => fleet.Logs.SelectMany(log => log.Events).Select(each => each.Entry);

    /// <summary>The circuit with that role.</summary>
    public static CircuitPlan With(this Fleet fleet, Role role) => fleet.Circuits.Single(circuit => circuit.Role == role);
}

using FleetLight.Contracts.Facts;
using FleetLight.Demo.Planning;

namespace FleetLight.Demo.Works;

/// <summary>A fact as it was recorded on a device.</summary>
/// <param name="Id">Its id.</param>
/// <param name="Device">The device.</param>
/// <param name="At">When it truly happened.</param>
/// <param name="Fact">What happened.</param>
internal sealed record Entry(string Id, Device Device, DateTimeOffset At, IFact Fact);

/// <summary>Everything that was recorded, in the order in which the demo tells it.</summary>
internal sealed class Journal
{
    private readonly List<Entry> entries = [];

    /// <summary>The entries.</summary>
    public IReadOnlyList<Entry> Entries => entries;

    /// <summary>Adds a fact.</summary>
    public Entry Add(Device device, DateTimeOffset at, IFact fact)
    {
        var entry = new Entry($"f{entries.Count + 1:d6}", device, at, fact);
        entries.Add(entry);
        return entry;
    }
}

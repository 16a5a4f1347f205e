using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>
/// The readings of a circuit that can be compared together: repeated ones merged, the others beside each other.
/// </summary>
internal sealed class ReadingGroups
{
    /// <summary>Most places and quantities that are compared together: the last ones given.</summary>
    public const int Most = 64;

    private readonly List<Group> groups = [];

    private ReadingGroups()
    {
    }

    public int Count => groups.Count;

    /// <summary>The merged reading.</summary>
    public MeasuredReading this[int i] => groups[i].Merged;

    /// <summary>Index, among the readings given, of the last one in a group.</summary>
    public int LastOf(int i) => groups[i].Last;

    /// <summary>Its meter.</summary>
    public MeterAccuracy MeterOf(int i) => MeterOf(groups[i].Merged);

    /// <summary>Groups the readings that were judged against an expected value.</summary>
    public static ReadingGroups Of(
        IReadOnlyList<MeasuredReading?> readings, ReadOnlySpan<Verdict> each, DriveKind drive)
    {
        var made = new ReadingGroups();
        var known = new Dictionary<(string, MeasuredQuantity, MeterAccuracy), Group>();
        for (var i = each.Length - 1; i >= 0; i--)
        {
            if (each[i].Reason != VerdictReason.Compared || readings[i] is not { } reading) continue;
            // The current of a series loop is the same wherever it is measured.
            var place = reading.Quantity == MeasuredQuantity.Milliamps && drive == DriveKind.ConstantCurrent
                ? CircuitModel.DriverNode
                : reading.Place;
            var key = (place, reading.Quantity, MeterOf(reading));
            if (!known.TryGetValue(key, out var group))
            {
                if (made.Count >= Most) continue;
                group = new Group(reading with { Place = place }, i);
                known.Add(key, group);
                made.groups.Add(group);
            }

            group.Values.Add(reading.Value);
        }

        made.groups.Reverse();
        foreach (var group in made.groups) group.Merge();
        return made;
    }

    private static MeterAccuracy MeterOf(MeasuredReading reading) =>
        reading.Meter ?? MeterAccuracy.DefaultFor(reading.Quantity);

    private sealed class Group(MeasuredReading newest, int last)
    {
        public List<double> Values { get; } = [];

        public int Last => last;

        public MeasuredReading Merged { get; private set; } = newest;

        public void Merge()
        {
            if (Values.Count > 1)
                Merged = MeasuredReading.MeanOf(Merged, System.Runtime.InteropServices.CollectionsMarshal.AsSpan(Values));
        }
    }
}

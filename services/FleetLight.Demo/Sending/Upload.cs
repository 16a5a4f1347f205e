using FleetLight.Demo.Planning;
using FleetLight.Demo.Works;

namespace FleetLight.Demo.Sending;

/// <summary>A batch as a device hands it in.</summary>
/// <param name="Log">The device's log.</param>
/// <param name="Numbers">Running numbers of its events, in the order in which they stand in the batch.</param>
/// <param name="At">When it would have reached the service: batches are sent in this order.</param>
/// <param name="Again">Whether it was sent before: the answer to the first was lost on the way.</param>
internal sealed record Upload(DeviceLog Log, IReadOnlyList<int> Numbers, DateTimeOffset At, bool Again)
{
    /// <summary>The device.</summary>
    public Device Device => Log.Device;
}

/// <summary>The habits of devices in the field: batches come late, doubled, and out of their order.</summary>
internal static class Uploads
{
    /// <summary>Most events of a batch.</summary>
    public const int MostEvents = 300;

    private const int FewEvents = 60;
    private static readonly TimeSpan Pause = TimeSpan.FromHours(12);

    /// <summary>Every batch of a fleet, in the order of sending.</summary>
    public static IReadOnlyList<Upload> Of(Fleet fleet) =>
    [
        .. fleet.Logs.SelectMany(log => Of(log, Chance.Of(fleet.Seed, $"uploads of {log.Device.Name}")))
            .OrderBy(upload => upload.At).ThenBy(upload => upload.Device.Name, StringComparer.Ordinal),
    ];

    private static IEnumerable<Upload> Of(DeviceLog log, Chance chance)
    {
        var batches = Cut(log).ToList();
        // However the chances fall, every device has one late batch and one doubled one.
        var late = chance.Whole(0, batches.Count - 1);
        var doubled = chance.Whole(0, batches.Count - 1);
        for (var index = 0; index < batches.Count; index++)
        {
            var batch = batches[index];
            var days = index == late || chance.Once(0.12) ? chance.Between(3, 16) : chance.Between(0.1, 0.4);
            IReadOnlyList<int> numbers = [.. batch.Select(each => each.RunningNumber)];
            if (chance.Once(0.1)) numbers = chance.Shuffled(numbers);
            var upload = new Upload(log, numbers, batch[^1].Entry.At.AddDays(days), Again: false);
            yield return upload;
            if (index == doubled || chance.Once(0.08)) yield return upload with { At = upload.At.AddDays(chance.Between(0.5, 4)), Again = true };
        }
    }

    // A batch ends with the day's work once it is worth sending, or where it is full.
    private static IEnumerable<IReadOnlyList<LoggedEvent>> Cut(DeviceLog log)
    {
        var batch = new List<LoggedEvent>();
        foreach (var each in log.Events)
        {
            var rested = batch.Count > 0 && each.Entry.At - batch[^1].Entry.At > Pause;
            if (batch.Count == MostEvents || (rested && batch.Count >= FewEvents))
            {
                yield return batch;
                batch = [];
            }

            batch.Add(each);
        }

        if (batch.Count > 0) yield return batch;
    }
}

using System.Buffers;
using System.Text.Encodings.Web;
using System.Text.Json;
using FleetLight.Contracts.Wire;
using FleetLight.Demo.Planning;
using FleetLight.Demo.Works;

namespace FleetLight.Demo.Sending;

/// <summary>Hands a fleet's facts in as its devices would, until the service has them all.</summary>
internal sealed class Loader(Api api, KeyRing keys, DemoOptions options, Progress progress, TimeProvider clock)
{
    // A receipt lists a hundred gaps at most, so filling them can take more than one round; two are usual.
    private const int MostRounds = 20;

    /// <summary>Sends what the service does not have.</summary>
    /// <param name="fleet">The fleet.</param>
    /// <param name="record">What became of the facts so far.</param>
    /// <param name="cancel">Cancels.</param>
    /// <returns>What became of them now.</returns>
    public async Task<LoadRecord> LoadAsync(Fleet fleet, LoadRecord record, CancellationToken cancel)
    {
        for (var round = 0; round < MostRounds; round++)
        {
            var missing = new Dictionary<Device, HashSet<int>>();
            foreach (var log in fleet.Logs) missing.Add(log.Device, Missing(log, await ReceiptAsync(log.Device, cancel)));
            if (missing.Values.All(numbers => numbers.Count == 0)) return record;
            record = await SendAsync(fleet, record, missing, cancel);
        }

        throw new DemoFailure("The service keeps asking for facts that were sent. See its log.");
    }

    /// <summary>What the service has of a device.</summary>
    public Task<Receipt> ReceiptAsync(Device device, CancellationToken cancel) =>
        api.GetAsync<Receipt>(keys.Of(device), "v1/devices/self/receipts", cancel);

    private async Task<LoadRecord> SendAsync(Fleet fleet, LoadRecord record, Dictionary<Device, HashSet<int>> missing, CancellationToken cancel)
    {
        var (sent, all) = (0, missing.Values.Sum(numbers => numbers.Count));
        foreach (var upload in Uploads.Of(fleet))
        {
            var numbers = upload.Numbers.Where(missing[upload.Device].Contains).ToArray();
            // A batch is doubled only where it was sent whole just now: a later run sends nothing that is complete.
            if (numbers.Length == 0 || (upload.Again && numbers.Length < upload.Numbers.Count)) continue;
            progress.Show($"sent {sent:n0} of {all:n0} facts");
            var receipt = await api.HandInAsync(keys.Of(upload.Device), Batch(upload.Log, numbers), () => upload.Device.Shows(clock.GetUtcNow()), cancel);
            record = record.With(upload.Device.Name, receipt);
            await record.KeepAsync(options, cancel);
            if (!upload.Again) sent += numbers.Length;
        }

        return record;
    }

    private static HashSet<int> Missing(DeviceLog log, Receipt receipt) =>
    [
        .. log.Events.Select(each => each.RunningNumber).Where(number =>
            number > receipt.Highest || receipt.Missing.Any(range => number >= range.From && number <= range.Through)),
    ];

    private static ReadOnlyMemory<byte> Batch(DeviceLog log, IEnumerable<int> numbers)
    {
        var body = new ArrayBufferWriter<byte>(256 * 1024);
        using (var json = new Utf8JsonWriter(body, new JsonWriterOptions { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
        {
            json.WriteStartArray();
            foreach (var number in numbers) log.Events[number - 1].Write(json);
            json.WriteEndArray();
        }

        return body.WrittenMemory;
    }
}

using System.Text;
using System.Text.Json;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;

namespace FleetLight.Benchmarks;

/// <summary>A device that sends batches over its own connection.</summary>
internal sealed class Device(RawHttp http, string source, string key)
{
    private int number;

    /// <summary>The device's source.</summary>
    public string Source => source;

    /// <summary>The request that hands these facts in.</summary>
    public byte[] Prepare(IEnumerable<IFact> facts) => RawHttp.Request(
        "POST", "/v1/events", key, Facts.Batch(source, ref number, facts, DateTimeOffset.UtcNow.AddHours(-6)), Envelope.BatchMediaType);

    /// <summary>Sends a prepared batch; everything in it must be recorded.</summary>
    public async Task SendAsync(byte[] request, int facts)
    {
        var (status, body, _) = await http.SendAsync(request);
        if (status != 200) throw new InvalidOperationException($"A batch failed: {status} {Encoding.UTF8.GetString(body.Span)}");
        var recorded = JsonSerializer.Deserialize<BatchReceipt>(body.Span, WireJson.Lenient)!;
        if (recorded.Recorded != facts) throw new InvalidOperationException($"Only {recorded.Recorded} of {facts} were recorded: {Encoding.UTF8.GetString(body.Span)[..500]}");
    }

    /// <summary>Sends a batch a second time; nothing in it may be recorded again.</summary>
    public async Task SendAgainAsync(byte[] request)
    {
        var (status, body, _) = await http.SendAsync(request);
        if (status != 200) throw new InvalidOperationException($"A batch failed: {status} {Encoding.UTF8.GetString(body.Span)}");
        var again = JsonSerializer.Deserialize<BatchReceipt>(body.Span, WireJson.Lenient)!;
        if (again.Recorded > 0) throw new InvalidOperationException($"{again.Recorded} facts were recorded twice.");
    }
}

/// <summary>The service under measurement: its keys and devices.</summary>
internal sealed class Fleet(int port, string firstKey)
{
    private static readonly string[] ReadStatus = ["read-status"];
    private static readonly string[] PostEvents = ["post-events"];
    private int devices;

    /// <summary>Port of the service.</summary>
    public int Port => port;

    /// <summary>A key that reads status.</summary>
    public string ReadKey { get; private set; } = "";

    /// <summary>Makes the key that reads.</summary>
    public async Task OpenAsync() => ReadKey = await MakeKeyAsync(new { name = "reader", organisation = "bench", scopes = ReadStatus });

    /// <summary>Makes a device with its own key and connection.</summary>
    public async Task<Device> AddDeviceAsync()
    {
        var source = $"urn:fleetlight:device:bench-{Environment.ProcessId}-{Interlocked.Increment(ref devices)}";
        var key = await MakeKeyAsync(new { name = "device", organisation = "bench", source, scopes = PostEvents });
        return new Device(await RawHttp.ConnectAsync(port), source, key);
    }

    /// <summary>Sends whole jobs in batches of 1,000 from 4 devices.</summary>
    public async Task BuildAsync(IReadOnlyList<(string Site, string Circuit)> circuits)
    {
        await Task.WhenAll(Enumerable.Range(0, 4).Select(async lane =>
        {
            var device = await AddDeviceAsync();
            foreach (var chunk in circuits.Where((_, index) => index % 4 == lane).SelectMany(each => Facts.Job(each.Site, each.Circuit)).Chunk(1000))
                await device.SendAsync(device.Prepare(chunk), chunk.Length);
        }));
    }

    /// <summary>Makes a key as asked for.</summary>
    public async Task<string> MakeKeyAsync(object wanted)
    {
        using var http = await RawHttp.ConnectAsync(port);
        var (status, body, _) = await http.SendAsync(RawHttp.Request("POST", "/v1/keys", firstKey, JsonSerializer.SerializeToUtf8Bytes(wanted)));
        if (status != 201) throw new InvalidOperationException(Encoding.UTF8.GetString(body.Span));
        return JsonDocument.Parse(body).RootElement.GetProperty("key").GetString()!;
    }
}

using System.Net;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;

namespace FleetLight.Testing.Service;

/// <summary>A crew's device: it numbers what it records and hands it in.</summary>
public sealed class Device(ApiClient api, string source)
{
    /// <summary>When the first fact of a device happened, where a test does not say; each further one a minute later.</summary>
    public static readonly DateTimeOffset Began = new(2026, 3, 2, 8, 0, 0, TimeSpan.Zero);

    private int _last;

    /// <summary>Calls with the device's key.</summary>
    public ApiClient Api { get; } = api;

    /// <summary>The device.</summary>
    public string Source { get; } = source;

    /// <summary>The greatest running number given out.</summary>
    public int Last => _last;

    /// <summary>Records a fact under the next running number.</summary>
    public SentEvent Record(IFact fact, DateTimeOffset? at = null, string? id = null)
    {
        int number = Interlocked.Increment(ref _last);
        return SentEvent.Of(Source, id ?? $"{number:D4}", number, at ?? Began.AddMinutes(number), fact);
    }

    /// <summary>Records facts, a minute after each other.</summary>
    public SentEvent[] Record(params ReadOnlySpan<IFact> facts)
    {
        SentEvent[] events = new SentEvent[facts.Length];
        for (int index = 0; index < facts.Length; index++) events[index] = Record(facts[index]);
        return events;
    }

    /// <summary>Leaves running numbers out, as if what they count were still on its way.</summary>
    public void Skip(int numbers = 1) => Interlocked.Add(ref _last, numbers);

    /// <summary>Records facts and hands them in.</summary>
    public Task<BatchReceipt> TellAsync(params ReadOnlySpan<IFact> facts) => SendAsync(Record(facts));

    /// <summary>Records a fact that happened at that time, and hands it in.</summary>
    public Task<BatchReceipt> TellAsync(DateTimeOffset at, IFact fact) => SendAsync(Record(fact, at));

    /// <summary>Hands events in as one batch, which has to be taken.</summary>
    public async Task<BatchReceipt> SendAsync(params SentEvent[] events) =>
        (await PostAsync(events).ConfigureAwait(false)).Expect(HttpStatusCode.OK).As<BatchReceipt>();

    /// <summary>Hands events in as one batch with what the device's clock shows.</summary>
    public async Task<BatchReceipt> SendAsync(DateTimeOffset clock, params SentEvent[] events) =>
        (await PostAsync(SentEvent.Batch(events), (Envelope.DeviceClockHeader, clock.ToString("O"))).ConfigureAwait(false))
        .Expect(HttpStatusCode.OK).As<BatchReceipt>();

    /// <summary>Hands events in as one batch, whatever the answer.</summary>
    public Task<Answer> PostAsync(params SentEvent[] events) => PostAsync(SentEvent.Batch(events));

    /// <summary>Hands a batch in as that text, whatever the answer.</summary>
    public Task<Answer> PostAsync(string batch, params (string Name, string Value)[] headers) =>
        Api.PostAsync("/v1/events", batch, Envelope.BatchMediaType, headers);

    /// <summary>Hands one event in by itself, whatever the answer.</summary>
    public Task<Answer> PostOneAsync(SentEvent sent) => Api.PostAsync("/v1/events", sent.Text, Envelope.SingleMediaType);

    /// <summary>What is in hand of the device.</summary>
    public Task<Receipt> ReceiptAsync() => Api.ReadAsync<Receipt>("/v1/devices/self/receipts");
}

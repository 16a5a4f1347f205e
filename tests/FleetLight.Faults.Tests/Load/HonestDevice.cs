using System.Diagnostics;
using System.Net;
using System.Net.Http.Headers;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using FleetLight.Testing.Service;

namespace FleetLight.Faults.Tests.Load;

/// <summary>
/// A device as the contract asks for it: it keeps what it recorded until that has a receipt, sends again what has none,
/// and waits as long as it is told to. With several addresses it goes to the next one after each failure.
/// </summary>
internal sealed class HonestDevice : IDisposable
{
    private const int MostWaiting = 300;
    private const int MostInBatch = 40;

    private readonly List<SentEvent> recorded = [];
    private readonly SortedDictionary<int, SentEvent> waiting = [];
    private readonly Uri[] addresses;
    private readonly Func<int, IFact> next;
    private readonly Random chance;
    private readonly HttpClient http;
    private int address;
    private int everSent;

    /// <summary>A device without facts.</summary>
    /// <param name="addresses">Where the service answers.</param>
    /// <param name="key">Its key.</param>
    /// <param name="source">The device.</param>
    /// <param name="next">What it records under a running number.</param>
    /// <param name="chance">Draws how much it records and how long it waits.</param>
    /// <param name="patience">How long it waits for an answer.</param>
    public HonestDevice(Uri[] addresses, string key, string source, Func<int, IFact> next, Random chance, TimeSpan patience)
    {
        (this.addresses, Source, this.next, this.chance) = (addresses, source, next, chance);
        // A connection a batch: what a network does to it then hits one batch at a known place.
        http = new HttpClient(new SocketsHttpHandler { ConnectTimeout = TimeSpan.FromSeconds(2), PooledConnectionLifetime = TimeSpan.Zero })
        {
            Timeout = patience,
        };
        http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", key);
    }

    /// <summary>The device.</summary>
    public string Source { get; }

    /// <summary>How far its clock is ahead now; none where it tells nothing of its clock, and its facts happened at the times of the builders.</summary>
    public Func<TimeSpan>? ClockError { get; init; }

    /// <summary>Everything that it recorded, in the order of the running numbers.</summary>
    public IReadOnlyList<SentEvent> Recorded => recorded;

    /// <summary>Number of facts that were sent at least once.</summary>
    public int Sent => everSent;

    /// <summary>Ids of the facts that have a receipt.</summary>
    public HashSet<string> Receipted { get; } = new(StringComparer.Ordinal);

    /// <summary>Answers that an honest device must not get.</summary>
    public List<string> Oddities { get; } = [];

    /// <summary>Number of batches that failed, and were sent again.</summary>
    public int Failures { get; private set; }

    /// <summary>Number of times that it was told to come back later.</summary>
    public int SentAway { get; private set; }

    /// <summary>The longest that it waited for an answer that came.</summary>
    public TimeSpan LongestWait { get; private set; }

    /// <summary>Number of batches that were taken.</summary>
    public int Taken { get; private set; }

    /// <summary>Number of facts that the service knew already, because the first answer about them was lost.</summary>
    public int Duplicates { get; private set; }

    /// <summary>Records and sends until told to stop; the last batch is given up as it is.</summary>
    public async Task WorkAsync(CancellationToken stop)
    {
        while (!stop.IsCancellationRequested)
        {
            for (int more = chance.Next(1, 25); more > 0 && waiting.Count < MostWaiting; more--) Record();
            await SendAsync(stop);
        }
    }

    /// <summary>Sends until everything that it recorded has a receipt.</summary>
    public async Task DrainAsync(TimeSpan most)
    {
        using CancellationTokenSource limit = new(most);
        while (waiting.Count > 0)
        {
            if (limit.IsCancellationRequested) throw new TimeoutException($"{waiting.Count} facts of {Source} have no receipt after {most}.");
            await SendAsync(limit.Token);
        }
    }

    /// <inheritdoc/>
    public void Dispose() => http.Dispose();

    private void Record()
    {
        int number = recorded.Count + 1;
        DateTimeOffset at = ClockError is { } error ? DateTimeOffset.UtcNow + error() : Device.Began.AddSeconds(number);
        SentEvent fact = SentEvent.Of(Source, $"{Source}-{number}", number, at, next(number));
        recorded.Add(fact);
        waiting[number] = fact;
    }

    private async Task SendAsync(CancellationToken stop)
    {
        SentEvent[] batch = [.. waiting.Values.Take(chance.Next(1, MostInBatch))];
        everSent = Math.Max(everSent, batch[^1].RunningNumber);
        long began = Stopwatch.GetTimestamp();
        try
        {
            using ByteArrayContent content = new(System.Text.Encoding.UTF8.GetBytes(SentEvent.Batch(batch)));
            content.Headers.ContentType = new MediaTypeHeaderValue(Envelope.BatchMediaType);
            using HttpRequestMessage request = new(HttpMethod.Post, new Uri(addresses[address % addresses.Length], "v1/events")) { Content = content };
            if (ClockError is { } error) request.Headers.Add(Envelope.DeviceClockHeader, (DateTimeOffset.UtcNow + error()).ToString("O"));
            using HttpResponseMessage answer = await http.SendAsync(request, stop);
            string text = await answer.Content.ReadAsStringAsync(stop);
            LongestWait = TimeSpan.FromTicks(Math.Max(LongestWait.Ticks, Stopwatch.GetElapsedTime(began).Ticks));
            await TakeAsync(answer, text, batch, stop);
        }
        catch (Exception failed) when (failed is HttpRequestException or OperationCanceledException or IOException or System.Text.Json.JsonException)
        {
            if (stop.IsCancellationRequested) return;
            await FailAsync(TimeSpan.FromMilliseconds(chance.Next(20, 120)), stop);
        }
    }

    private async Task TakeAsync(HttpResponseMessage answer, string text, SentEvent[] batch, CancellationToken stop)
    {
        if (answer.StatusCode == HttpStatusCode.OK)
        {
            BatchReceipt receipt = System.Text.Json.JsonSerializer.Deserialize<BatchReceipt>(text, WireJson.Lenient)!;
            foreach (EventOutcome outcome in receipt.Outcomes)
            {
                if (outcome.Outcome == FactOutcome.Refused) Oddities.Add($"{outcome.Id} was refused: {outcome.Problem?.Detail}");
                Receipted.Add(batch[outcome.Index].Id);
                waiting.Remove(batch[outcome.Index].RunningNumber);
            }

            Taken++;
            Duplicates += receipt.Duplicates;
            return;
        }

        // Somebody on the way may know nothing of when to come back; the service has to.
        if (answer.StatusCode == HttpStatusCode.BadGateway) throw new HttpRequestException("Somebody on the way failed.");
        bool later = answer.StatusCode is HttpStatusCode.ServiceUnavailable or HttpStatusCode.TooManyRequests;
        if (!later || answer.Headers.RetryAfter?.Delta is not { } wait)
        {
            Oddities.Add($"{(int)answer.StatusCode} {answer.Headers.RetryAfter} {text}");
            wait = TimeSpan.FromSeconds(1);
        }

        SentAway++;
        await FailAsync(wait, stop);
    }

    private async Task FailAsync(TimeSpan wait, CancellationToken stop)
    {
        Failures++;
        address++;
        await Task.Delay(wait, stop).ContinueWith(_ => { }, CancellationToken.None, TaskContinuationOptions.None, TaskScheduler.Default);
    }
}

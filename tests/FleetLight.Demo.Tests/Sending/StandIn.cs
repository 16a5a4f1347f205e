using System.Net;
using System.Net.Http.Headers;
using System.Text.Json;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Checks;
using FleetLight.Record.Intake;

namespace FleetLight.Demo.Tests.Sending;

/// <summary>
/// A stand-in for the service behind an <see cref="HttpClient"/>: it keeps what devices hand in, gives receipts, and
/// knows of circuits only when each was read last. Its alerts and views are what a test says.
/// </summary>
internal sealed class StandIn(HastyClock clock) : HttpMessageHandler
{
    public const string FirstKey = "first.secret";

    private readonly Dictionary<string, string?> sources = new() { [FirstKey] = null };
    private readonly Dictionary<string, RunningNumbers> numbers = [];
    private readonly Dictionary<(string Source, string Id), string> known = [];
    private readonly Dictionary<string, DateTimeOffset> lastReadAt = [];
    private readonly List<object> refused = [];

    /// <summary>Events handed in, by source; those sent twice are there twice.</summary>
    public List<(string Source, JsonElement Event, TimeSpan ClockError)> HandedIn { get; } = [];

    /// <summary>Bodies of the requests for keys.</summary>
    public List<JsonElement> KeysAsked { get; } = [];

    /// <summary>The alerts that it answers.</summary>
    public List<AlertView> Alerts { get; } = [];

    /// <summary>The views that it answers.</summary>
    public Dictionary<string, CircuitView> Views { get; } = [];

    /// <summary>Answers 503 to so many batches before it takes the next.</summary>
    public int Ailing { get; set; }

    /// <summary>Takes so many batches and then breaks down.</summary>
    public int BatchesUntilBreakdown { get; set; } = int.MaxValue;

    /// <summary>Whether nobody is there.</summary>
    public bool Away { get; set; }

    /// <summary>Whether it shows the circuits' last readings.</summary>
    public bool CatchesUp { get; set; } = true;

    protected override async Task<HttpResponseMessage> SendAsync(HttpRequestMessage request, CancellationToken cancellationToken)
    {
        if (Away) throw new HttpRequestException("Connection refused");
        var path = request.RequestUri!.AbsolutePath;
        if (path == "/health/ready") return Answer(new { status = "ready", projectionBehind = 0 });
        if (request.Headers.Authorization is not { Scheme: "Bearer", Parameter: { } key } || !sources.TryGetValue(key, out var source))
            return Answer(new Problem { Type = ProblemTypes.KeyMissing, Title = "A key is needed" }, HttpStatusCode.Unauthorized);
        var body = request.Content is null ? [] : await request.Content.ReadAsByteArrayAsync(cancellationToken);
        return path switch
        {
            "/v1/keys" => MakeKey(body),
            "/v1/events" => HandIn(source!, body, request),
            "/v1/devices/self/receipts" => Answer(numbers.GetValueOrDefault(source!, RunningNumbers.None).ToReceipt(source!)),
            "/v1/circuits" => PageOf(CatchesUp ? lastReadAt.Select(pair => Line(pair.Key, pair.Value)) : [], request.RequestUri.Query),
            "/v1/alerts" => PageOf(Alerts, request.RequestUri.Query),
            "/v1/refused" => PageOf(refused, request.RequestUri.Query),
            _ when path.StartsWith("/v1/circuits/", StringComparison.Ordinal) => Answer(Views.GetValueOrDefault(path[13..], ViewOf(path[13..], CircuitVerdict.Within))),
            _ => new HttpResponseMessage(HttpStatusCode.NotFound),
        };
    }

    /// <summary>A view that says nothing but the verdict and the explanations.</summary>
    public static CircuitView ViewOf(string id, CircuitVerdict verdict, params ExplanationView[] explanations) => new()
    {
        Id = id,
        Phase = CircuitPhase.Energised,
        PhaseReachedAt = new Dictionary<CircuitPhase, DateTimeOffset>(),
        MissingForNextPhase = [],
        Verdict = verdict,
        VerdictWhy = "",
        Expected = [],
        LastReadings = [],
        Explanations = explanations,
        CannotTellApart = [],
        NextReadings = [],
        Tests = [],
        Fittings = [],
        CableIds = [],
        BoxIds = [],
        SpareCores = 0,
        OpenFaults = [],
        OpenPoints = [],
        WaitingFor = [],
        Contradictions = [],
        Findings = [],
        Facts = [],
    };

    private HttpResponseMessage MakeKey(byte[] body)
    {
        using var wanted = JsonDocument.Parse(body);
        KeysAsked.Add(wanted.RootElement.Clone());
        var key = $"{KeysAsked.Count}.secret";
        sources[key] = wanted.RootElement.TryGetProperty("source", out var source) ? source.GetString() : null;
        return Answer(new { id = $"{KeysAsked.Count}", key }, HttpStatusCode.Created);
    }

    private HttpResponseMessage HandIn(string source, byte[] body, HttpRequestMessage request)
    {
        Assert.Equal(Envelope.BatchMediaType, request.Content!.Headers.ContentType!.MediaType);
        if (Ailing > 0)
        {
            Ailing--;
            return new HttpResponseMessage(HttpStatusCode.ServiceUnavailable);
        }

        if (BatchesUntilBreakdown-- <= 0) throw new HttpRequestException("Connection refused");
        var error = DateTimeOffset.Parse(request.Headers.GetValues(Envelope.DeviceClockHeader).Single(), null) - clock.GetUtcNow();
        using var batch = JsonDocument.Parse(body);
        var outcomes = batch.RootElement.EnumerateArray().Select((each, index) => Take(source, each.Clone(), index, error)).ToArray();
        var inHand = numbers.GetValueOrDefault(source, RunningNumbers.None)
            .With(batch.RootElement.EnumerateArray().Select(each => each.GetProperty(Envelope.RunningNumber).GetInt32()));
        numbers[source] = inHand;
        return Answer(new BatchReceipt
        {
            Receipt = inHand.ToReceipt(source),
            Outcomes = outcomes,
            Recorded = outcomes.Count(outcome => outcome.Outcome == FactOutcome.Recorded),
            Duplicates = outcomes.Count(outcome => outcome.Outcome == FactOutcome.Duplicate),
            Refused = outcomes.Count(outcome => outcome.Outcome == FactOutcome.Refused),
            ClockErrorSeconds = error.TotalSeconds,
        });
    }

    private EventOutcome Take(string source, JsonElement each, int index, TimeSpan error)
    {
        HandedIn.Add((source, each, error));
        Assert.Equal(source, each.GetProperty("source").GetString());
        var id = each.GetProperty("id").GetString()!;
        var fact = (IFact)each.GetProperty("data").Deserialize(FactTypes.Find(each.GetProperty("type").GetString()!)!, WireJson.Strict)!;
        if (FactCheck.Check(fact) is [var wrong, ..])
        {
            if (known.TryAdd((source, id), "refused"))
                refused.Add(new { source, factId = id, problem = new Problem { Type = ProblemTypes.OutOfRange, Title = "", Field = wrong.Field, Detail = wrong.Detail } });
            return new EventOutcome { Index = index, Id = id, Outcome = FactOutcome.Refused };
        }

        if (fact is ReadingTaken reading)
        {
            var at = each.GetProperty("time").GetDateTimeOffset() - error;
            lastReadAt[reading.CircuitId] = lastReadAt.TryGetValue(reading.CircuitId, out var before) && before > at ? before : at;
        }

        var added = known.TryAdd((source, id), each.GetRawText());
        Assert.Equal(each.GetRawText(), known[(source, id)]);
        return new EventOutcome { Index = index, Id = id, Outcome = added ? FactOutcome.Recorded : FactOutcome.Duplicate };
    }

    private static CircuitLine Line(string id, DateTimeOffset read) =>
        new() { Id = id, Phase = CircuitPhase.HandedOver, Verdict = CircuitVerdict.Within, LastReadAt = read, Rules = [] };

    // Pages of 25, so that the demo has to turn them.
    private static HttpResponseMessage PageOf<T>(IEnumerable<T> all, string query)
    {
        const int size = 25;
        var from = query.Contains("cursor=", StringComparison.Ordinal) ? int.Parse(query.Split("cursor=")[1], null) : 0;
        T[] items = [.. all.Skip(from).Take(size)];
        return Answer(new Page<T> { Items = items, Next = items.Length == size ? $"{from + size}" : null });
    }

    private static HttpResponseMessage Answer(object body, HttpStatusCode status = HttpStatusCode.OK) => new(status)
    {
        Content = new ByteArrayContent(JsonSerializer.SerializeToUtf8Bytes(body, WireJson.Lenient))
        {
            Headers = { ContentType = new MediaTypeHeaderValue("application/json") },
        },
    };
}

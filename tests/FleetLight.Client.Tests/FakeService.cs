using System.Collections.Concurrent;
using System.Net;
using System.Text;

namespace FleetLight.Client.Tests;

/// <summary>Answers requests as a test says, and remembers them.</summary>
internal sealed class FakeService(Func<int, HttpRequestMessage, CancellationToken, Task<HttpResponseMessage>> answer) : HttpMessageHandler
{
    private int count;

    public FakeService(Func<int, HttpRequestMessage, HttpResponseMessage> answer) : this((turn, request, _) => Task.FromResult(answer(turn, request)))
    {
    }

    /// <summary>Each request: method, path with query, and headers of interest.</summary>
    public ConcurrentQueue<(string Line, string? Clock, string? Key, string? LastEvent)> Requests { get; } = [];

    public static HttpResponseMessage Json(string text, HttpStatusCode status = HttpStatusCode.OK) => Text(text, "application/json", status);

    public static HttpResponseMessage Text(string text, string type, HttpStatusCode status = HttpStatusCode.OK) =>
        new(status) { Content = new StringContent(text, Encoding.UTF8, type) };

    public static HttpResponseMessage Busy(HttpStatusCode status, int seconds)
    {
        var busy = Text("", "text/plain", status);
        busy.Headers.RetryAfter = new System.Net.Http.Headers.RetryConditionHeaderValue(TimeSpan.FromSeconds(seconds));
        return busy;
    }

    /// <summary>A client of this service.</summary>
    public FleetLightClient Client(
        TimeProvider? clock = null, int retries = 3, double tryMilliseconds = 5000, int triesBeforeStop = 100, double pauseMilliseconds = 1) => new(
        new ClientOptions
        {
            Address = new Uri("http://fleetlight.example/"),
            Key = () => "id.secret",
            MostRetries = retries,
            FirstPause = TimeSpan.FromMilliseconds(pauseMilliseconds),
            TryTimeout = TimeSpan.FromMilliseconds(tryMilliseconds),
            TriesBeforeStop = triesBeforeStop,
            Silence = TimeSpan.FromSeconds(2),
        },
        new HttpClient(this) { Timeout = Timeout.InfiniteTimeSpan }, clock, () => 0.5);

    protected override Task<HttpResponseMessage> SendAsync(HttpRequestMessage request, CancellationToken cancellationToken)
    {
        string? Header(string name) => request.Headers.TryGetValues(name, out var values) ? string.Join(',', values) : null;
        Requests.Enqueue(($"{request.Method} {request.RequestUri!.PathAndQuery}", Header("Device-Clock"), Header("Authorization"), Header("Last-Event-ID")));
        return answer(Interlocked.Increment(ref count), request, cancellationToken);
    }
}

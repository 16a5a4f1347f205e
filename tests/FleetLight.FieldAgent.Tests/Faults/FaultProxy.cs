using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;
using System.Text;

namespace FleetLight.FieldAgent.Tests.Faults;

/// <summary>A request that passed the proxy.</summary>
/// <param name="Head">Its first line and headers.</param>
/// <param name="Body">Its body.</param>
/// <param name="Fault">What was done to it.</param>
/// <param name="At">When it came.</param>
internal sealed record Passed(string Head, byte[] Body, NetworkFault Fault, DateTimeOffset At)
{
    /// <summary>Its method and path.</summary>
    public string Line => Head.Split("\r\n")[0];
}

/// <summary>
/// A network between agent and service on the loopback address: takes requests on TCP, and does to each what it is told. Every
/// request has a connection of its own on both sides, so that a fault meets one request and no other.
/// </summary>
internal sealed class FaultProxy : IAsyncDisposable
{
    private const int LargestBody = 4096;
    private readonly TcpListener listener = new(IPAddress.Loopback, 0);
    private readonly CancellationTokenSource end = new();
    private readonly Task accepting;
    private readonly ConcurrentBag<Task> running = [];
    private readonly Uri service;

    public FaultProxy(Uri service)
    {
        this.service = service;
        listener.Start();
        Url = new Uri($"http://127.0.0.1:{((IPEndPoint)listener.LocalEndpoint).Port}/");
        accepting = AcceptAsync();
    }

    /// <summary>Where it listens.</summary>
    public Uri Url { get; }

    /// <summary>What to do to each request, by its first line.</summary>
    public Func<string, NetworkFault> Choose { get; set; } = _ => NetworkFault.None;

    /// <summary>Answers in the service's place: by method and path, with this JSON.</summary>
    public ConcurrentDictionary<string, string> Instead { get; } = new(StringComparer.Ordinal);

    /// <summary>How late an answer comes that is too late.</summary>
    public TimeSpan TooLate { get; set; } = TimeSpan.FromSeconds(7);

    /// <summary>Every request that came.</summary>
    public ConcurrentQueue<Passed> All { get; } = [];

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await end.CancelAsync();
        listener.Stop();
        await accepting;
        await Task.WhenAll(running);
        listener.Dispose();
        end.Dispose();
    }

    private async Task AcceptAsync()
    {
        try
        {
            while (true) running.Add(ServeAsync(await listener.AcceptTcpClientAsync(end.Token)));
        }
        catch (Exception ended) when (ended is OperationCanceledException or SocketException or ObjectDisposedException)
        {
            // The test has ended.
        }
    }

    private async Task ServeAsync(TcpClient client)
    {
        using var _ = client;
        try
        {
            await using var stream = client.GetStream();
            if (await ReadAsync(stream, end.Token) is not { } request) return;
            var line = request.Head.Split("\r\n")[0];
            var fault = Choose(line);
            All.Enqueue(new Passed(request.Head, request.Body, fault, DateTimeOffset.UtcNow));
            if (fault == NetworkFault.None && Instead.TryGetValue(line[..line.LastIndexOf(' ')], out var own))
            {
                await stream.WriteAsync(Made(200, "application/json", own), end.Token);
                return;
            }

            await DoAsync(fault, request, client, stream);
        }
        catch (Exception broken) when (broken is IOException or SocketException or OperationCanceledException or ObjectDisposedException)
        {
            // A connection that breaks is what this is for.
        }
    }

    private async Task DoAsync(NetworkFault fault, (string Head, byte[] Body) request, TcpClient client, NetworkStream stream)
    {
        switch (fault)
        {
            case NetworkFault.Dropped:
                client.Client.LingerState = new LingerOption(true, 0);
                break;
            case NetworkFault.CutRequest:
                await ForwardAsync(request, request.Body.Length / 2);
                break;
            case NetworkFault.CutBeforeAnswer:
                await ForwardAsync(request);
                break;
            case NetworkFault.CutAnswer:
                var whole = await ForwardAsync(request);
                await stream.WriteAsync(whole.AsMemory(0, whole.Length * 2 / 3), end.Token);
                break;
            case NetworkFault.Late:
                var late = await ForwardAsync(request);
                await Task.Delay(TimeSpan.FromSeconds(1), end.Token);
                await stream.WriteAsync(late, end.Token);
                break;
            case NetworkFault.TooLate:
                var tooLate = await ForwardAsync(request);
                await Task.Delay(TooLate, end.Token);
                await stream.WriteAsync(tooLate, end.Token);
                break;
            case NetworkFault.Silent:
                await Task.Delay(TooLate, end.Token);
                break;
            case NetworkFault.Noise:
                var noise = new byte[2000];
                new Random(7).NextBytes(noise);
                await stream.WriteAsync(noise, end.Token);
                break;
            case NetworkFault.LoginPage:
                await stream.WriteAsync(Made(200, "text/html", "<html><form>Room number</form></html>"), end.Token);
                break;
            case NetworkFault.OtherJson:
                await stream.WriteAsync(Made(200, "application/json", """{"receipt":{"source":"x","completeThrough":9,"highest":9,"missing":[]}}"""), end.Token);
                break;
            case NetworkFault.OtherAnswer:
                await ForwardAsync(request);
                await stream.WriteAsync(Made(200, "application/json", OtherAnswer), end.Token);
                break;
            case NetworkFault.BadGateway:
                await stream.WriteAsync(Made(502, "text/html", "<html>Bad gateway</html>"), end.Token);
                break;
            case NetworkFault.FailedAfter:
                await ForwardAsync(request);
                await stream.WriteAsync(Made(500, "text/plain", "upstream failed"), end.Token);
                break;
            case NetworkFault.Busy:
                await stream.WriteAsync(Made(503, "text/plain", "busy", "Retry-After: 1\r\n"), end.Token);
                break;
            case NetworkFault.TooMany:
                await stream.WriteAsync(Made(429, "text/plain", "slowly", "Retry-After: 1\r\n"), end.Token);
                break;
            case NetworkFault.TooLarge when request.Body.Length > LargestBody:
                await stream.WriteAsync(Made(413, "text/html", "<html>Too large</html>"), end.Token);
                break;
            case NetworkFault.Doubled:
                await ForwardAsync(request);
                await stream.WriteAsync(await ForwardAsync(request), end.Token);
                break;
            default:
                await stream.WriteAsync(await ForwardAsync(request), end.Token);
                break;
        }
    }

    // A whole and sound answer of the contract, for other facts than those that were sent.
    private const string OtherAnswer =
        """
        {"receipt":{"source":"/devices/other","completeThrough":1,"highest":1,"missing":[]},
         "outcomes":[{"index":0,"id":"other","outcome":"recorded"}],"recorded":1,"duplicates":0,"refused":0}
        """;

    // Sends the request on, or its first bytes only; answers all that comes back until the service closes.
    private async Task<byte[]> ForwardAsync((string Head, byte[] Body) request, int? first = null)
    {
        using var server = new TcpClient();
        await server.ConnectAsync(IPAddress.Loopback, service.Port, end.Token);
        await using var stream = server.GetStream();
        await stream.WriteAsync(Encoding.Latin1.GetBytes(request.Head + "Connection: close\r\n\r\n"), end.Token);
        await stream.WriteAsync(request.Body.AsMemory(0, first ?? request.Body.Length), end.Token);
        if (first is not null) return [];
        using var answer = new MemoryStream();
        await stream.CopyToAsync(answer, end.Token);
        return answer.ToArray();
    }

    private static async Task<(string Head, byte[] Body)?> ReadAsync(NetworkStream stream, CancellationToken cancel)
    {
        var read = new MemoryStream();
        var buffer = new byte[16 * 1024];
        while (true)
        {
            var count = await stream.ReadAsync(buffer, cancel);
            if (count == 0) return null;
            read.Write(buffer, 0, count);
            var bytes = read.GetBuffer().AsSpan(0, (int)read.Length);
            var at = bytes.IndexOf("\r\n\r\n"u8);
            if (at < 0) continue;
            // The service's own port, as the guard of a shared host would see it, and one request for each connection.
            var head = string.Concat(Encoding.Latin1.GetString(bytes[..(at + 2)]).Split("\r\n", StringSplitOptions.RemoveEmptyEntries)
                .Where(line => !line.StartsWith("Connection:", StringComparison.OrdinalIgnoreCase)).Select(line => line + "\r\n"));
            var length = LengthOf(head);
            if (read.Length >= at + 4 + length) return (head, bytes.Slice(at + 4, length).ToArray());
        }
    }

    private static int LengthOf(string head) => head.Split("\r\n")
        .Where(line => line.StartsWith("Content-Length:", StringComparison.OrdinalIgnoreCase))
        .Select(line => int.Parse(line.Split(':')[1], System.Globalization.CultureInfo.InvariantCulture)).FirstOrDefault();

    private static byte[] Made(int status, string type, string body, string headers = "") => Encoding.UTF8.GetBytes(
        $"HTTP/1.1 {status} Made\r\nContent-Type: {type}\r\nContent-Length: {Encoding.UTF8.GetByteCount(body)}\r\n{headers}Connection: close\r\n\r\n{body}");
}

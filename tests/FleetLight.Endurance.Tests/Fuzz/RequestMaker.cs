using System.Globalization;
using System.Text;
using System.Text.Json.Nodes;

namespace FleetLight.Endurance.Tests.Fuzz;

/// <summary>A request as bytes.</summary>
/// <param name="Bytes">The bytes.</param>
/// <param name="EndsSending">Whether sending ends with it, since nobody can know where it ends.</param>
/// <param name="Of">The operation that it was made of; empty where it is of none.</param>
internal sealed record MadeRequest(byte[] Bytes, bool EndsSending, string Of = "");

/// <summary>Makes requests by chance: each is sound but for a few things, and some are sound.</summary>
internal sealed class RequestMaker(Target target)
{
    private static readonly string[] ContentTypes =
    [
        "application/json", "application/cloudevents+json", "application/cloudevents-batch+json", "text/plain", "",
        "application/json; charset=utf-16",
        "application/json; charset=nonsense", "multipart/form-data; boundary=x", ";", "application/", "*/*",
        "application/json, application/xml", "a/b; c=\"",
    ];

    private static readonly string[] Headers =
    [
        "Accept: text/event-stream", "Accept: */*;q=9", "Accept: ,", "If-None-Match: \"x\"", "If-None-Match: *",
        "If-None-Match: W/\"", "If-None-Match: ,,,",
        "Last-Event-ID: 1-1", "Last-Event-ID: x", "Last-Event-ID: 99999999999999999999-0", "Content-Encoding: gzip",
        "Content-Encoding: br", "Accept-Encoding: \u0001",
        "Range: bytes=0-0", "Range: bytes=9-1", "Cookie: a=b; c", "Origin: null", "X-Forwarded-For: ' or 1=1",
        "X-Forwarded-Host: evil", "X-HTTP-Method-Override: DELETE",
        "traceparent: 00-00000000000000000000000000000000-0000000000000000-00", "traceparent: x", "tracestate: =,=",
        "Upgrade: websocket\r\nConnection: Upgrade",
        "Expect: 100-continue", "Connection: close", "Transfer-Encoding: identity",
        "Device-Clock: 2026-05-04T07:30:00Z",
    ];

    private static readonly string[] Paths =
    [
        "/", "/docs", "/v1", "/v1/", "/v1/circuits/", "/v1/none", "/index.html", "/../appsettings.json", "/%2e%2e/appsettings.json", "/v1//events",
        "/favicon.ico",
    ];

    private static readonly string[] Methods = ["GET", "POST", "PUT", "PATCH", "DELETE", "HEAD", "OPTIONS", "TRACE", "PROPFIND", "get"];
    private static readonly string[] Limits = ["1", "2", "1000", "0", "-1", "1001", "2147483647", "2147483648", "1.5", "1e3"];
    private static readonly string[] Cursors = ["2147483647", "0", "-1", "x", "site-1", "\0", "\uffff", "2147483000", "circuit-1"];

    private int number = 1000;

    /// <summary>The next request.</summary>
    public MadeRequest Make(Random dice)
    {
        int kind = dice.Next(100);
        if (kind < 3) return Violations.Make(dice, target);
        Operation operation = kind < 45 ? Hostile.Of(dice, [.. target.Operations.Where(each => each.Path == "/v1/events")]) : Pick(dice);
        byte[] body = operation.ContentTypes.Length == 0 && dice.Next(50) > 0 ? [] : Body(operation, dice);
        StringBuilder head = new();
        string method = dice.Next(60) == 0 ? Hostile.Of(dice, Methods) : operation.Method;
        head.Append(CultureInfo.InvariantCulture, $"{method} {PathOf(operation, dice)} HTTP/1.1\r\nHost: 127.0.0.1\r\n");
        Authorise(head, dice);
        string type = operation.ContentTypes.Length == 0 || dice.Next(25) == 0 ? Hostile.Of(dice, ContentTypes) : TypeOf(operation, body, dice);
        if (type.Length > 0 && (body.Length > 0 || dice.Next(10) == 0)) head.Append(CultureInfo.InvariantCulture, $"Content-Type: {type}\r\n");
        if (operation.Path == "/v1/events" && dice.Next(6) == 0) head.Append(CultureInfo.InvariantCulture, $"Device-Clock: {HeaderText(dice)}\r\n");
        if (dice.Next(12) == 0) head.Append(CultureInfo.InvariantCulture, $"{Hostile.Of(dice, Headers)}\r\n");
        if (dice.Next(60) == 0) head.Append(CultureInfo.InvariantCulture, $"X-Any: {HeaderText(dice)}\r\n");
        string name = $"{operation.Method} {operation.Path}";
        bool chunked = body.Length > 0 && dice.Next(12) == 0;
        // HEAD is answered without a body: the connection ends, so that no reader has to know that.
        bool ends = method is "HEAD" or "TRACE";
        if (chunked) return new MadeRequest([.. Latin(head.Append("Transfer-Encoding: chunked\r\n\r\n")), .. Chunks(body, dice)], ends, name);
        return new MadeRequest([.. Latin(head.Append(CultureInfo.InvariantCulture, $"Content-Length: {body.Length}\r\n\r\n")), .. body], ends, name);
    }

    // What does work in the background, or makes things that last, is asked for less often.
    private Operation Pick(Random dice)
    {
        while (true)
        {
            Operation operation = Hostile.Of(dice, target.Operations);
            bool isSeldom = (operation.Method, operation.Path) is ("POST", "/v1/webhooks") or ("POST", "/v1/keys") or ("PUT", "/v1/judging")
                or ("GET", "/metrics") or ("GET", "/openapi/v1.json") or ("GET", "/v1/keys") || operation.Path.EndsWith("take-in", StringComparison.Ordinal);
            if (!isSeldom || dice.Next(20) == 0) return operation;
        }
    }

    private byte[] Body(Operation operation, Random dice)
    {
        if (dice.Next(60) == 0) return Encoding.UTF8.GetBytes(Hostile.Of(dice, Hostile.Tokens));
        if (dice.Next(400) == 0) return new byte[dice.Next(2_000_000, 5_000_000)];
        JsonNode sound = target.Bodies.TryGetValue(operation.Path, out JsonNode[]? all) ? Hostile.Of(dice, all) : new JsonObject { ["a"] = 1 };
        if (operation.Path != "/v1/events") return Vary(sound, dice);
        int count = dice.Next(5) == 0 ? dice.Next(2, 6) : 1;
        List<byte> batch = [(byte)'['];
        for (int index = 0; index < count; index++)
        {
            JsonNode one = (index == 0 ? sound : Hostile.Of(dice, all!)).DeepClone();
            int next = dice.Next(40) == 0 ? 1 : Interlocked.Increment(ref number);
            one["source"] = target.Source;
            one["id"] = $"fuzz-{next}";
            one["runningnumber"] = next;
            if (index > 0) batch.Add((byte)',');
            batch.AddRange(Vary(one, dice));
        }

        batch.Add((byte)']');
        byte[] body = [.. batch];
        return count == 1 && dice.Next(2) == 0 ? body[1..^1] : body;
    }

    private static byte[] Vary(JsonNode sound, Random dice) =>
        dice.Next(15) == 0 ? Encoding.UTF8.GetBytes(sound.ToJsonString()) : JsonMutator.Mutate(sound, dice);

    private static string TypeOf(Operation operation, byte[] body, Random dice) =>
        operation.Path != "/v1/events" || dice.Next(20) == 0 ? Hostile.Of(dice, operation.ContentTypes)
        : body.Length > 0 && body[0] == '[' ? "application/cloudevents-batch+json" : "application/cloudevents+json";

    private string PathOf(Operation operation, Random dice)
    {
        if (dice.Next(80) == 0) return Hostile.Of(dice, Paths);
        StringBuilder path = new();
        foreach (string part in operation.Path.Split('{'))
        {
            int end = part.IndexOf('}', StringComparison.Ordinal);
            path.Append(end < 0 ? part : Escaped(dice.Next(2) == 0 ? Hostile.Of(dice, target.Ids) : Hostile.Of(dice, Hostile.Texts), dice) + part[(end + 1)..]);
        }

        char mark = '?';
        foreach (string name in operation.Queries)
        {
            if (dice.Next(3) > 0) continue;
            path.Append(mark).Append(name).Append('=').Append(Escaped(QueryText(name, dice), dice));
            mark = '&';
        }

        if (dice.Next(40) == 0) path.Append(mark).Append(Escaped(Hostile.Of(dice, Hostile.Texts), dice)).Append("=%&=&&");
        return path.ToString();
    }

    private static string QueryText(string name, Random dice) => name switch
    {
        "limit" when dice.Next(3) > 0 => Hostile.Of(dice, Limits),
        "cursor" when dice.Next(3) > 0 => Convert.ToBase64String(Encoding.UTF8.GetBytes(Hostile.Of(dice, Cursors))),
        _ => Hostile.Of(dice, Hostile.Texts),
    };

    // Mostly escaped as it should be; at times as it comes, without what would end the line.
    private static string Escaped(string text, Random dice) => dice.Next(12) == 0
        ? new string([.. text.Where(each => each is > ' ' and < '\u007f')])
        : Uri.EscapeDataString(text.Length > 3000 ? text[..3000] : text);

    private static string HeaderText(Random dice) => new([.. Hostile.Of(dice, Hostile.Texts).Where(each => each is not ('\r' or '\n' or '\0')).Take(6000)]);

    private void Authorise(StringBuilder head, Random dice)
    {
        string key = dice.Next(40) switch
        {
            0 => "",
            1 => "Authorization: Bearer\r\n",
            2 => $"Authorization: Bearer {HeaderText(dice)}\r\n",
            3 => $"Authorization: Basic {HeaderText(dice)}\r\n",
            4 => $"Authorization: Bearer {target.Key[..^3]}\r\n",
            _ => $"Authorization: Bearer {target.Key}\r\n",
        };
        head.Append(key);
    }

    private static byte[] Latin(StringBuilder head) => Encoding.UTF8.GetBytes(head.ToString());

    private static byte[] Chunks(byte[] body, Random dice)
    {
        List<byte> chunks = [];
        for (int at = 0; at < body.Length;)
        {
            int length = Math.Min(body.Length - at, dice.Next(1, 700));
            string extension = dice.Next(20) == 0 ? ";a=\"b\"" : "";
            chunks.AddRange(Encoding.ASCII.GetBytes($"{length:x}{extension}\r\n"));
            chunks.AddRange(body[at..(at + length)]);
            chunks.AddRange("\r\n"u8);
            at += length;
        }

        chunks.AddRange(dice.Next(10) == 0 ? "0\r\nTrailer: x\r\n\r\n"u8 : "0\r\n\r\n"u8);
        return [.. chunks];
    }
}

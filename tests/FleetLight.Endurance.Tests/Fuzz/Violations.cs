using System.Text;

namespace FleetLight.Endurance.Tests.Fuzz;

/// <summary>Requests that break HTTP itself (RFC 9112): no sound client sends them, and the answer is a refusal or the end of the connection.</summary>
internal static class Violations
{
    /// <summary>One of them, followed by the end of sending.</summary>
    public static MadeRequest Make(Random dice, Target target)
    {
        string key = $"Authorization: Bearer {target.Key}\r\n";
        string post = $"POST /v1/events HTTP/1.1\r\nHost: x\r\n{key}Content-Type: application/cloudevents-batch+json\r\n";
        string[] all =
        [
            "", "\r\n", "GET\r\n\r\n", "GET /\r\n\r\n", "GET / HTTP/0.9\r\n\r\n", "GET / HTTP/1.0\r\n\r\n",
            "GET / HTTP/2.0\r\nHost: x\r\n\r\n", "GET / HTTP/9.9\r\nHost: x\r\n\r\n",
            "GET  /  HTTP/1.1\r\nHost: x\r\n\r\n", "GET / HTTP/1.1\r\n\r\n",
            "GET / HTTP/1.1\r\nHost: x\r\nHost: y\r\n\r\n", "GET / HTTP/1.1\r\nHost: a b\r\n\r\n",
            "GET / HTTP/1.1\nHost: x\n\n", "GET / HTTP/1.1\r\nHost : x\r\n\r\n", "GET / HTTP/1.1\r\n Host: x\r\n\r\n",
            "GET / HTTP/1.1\r\nHost: x\r\nNo colon\r\n\r\n",
            "GET / HTTP/1.1\r\nHost: x\r\n: empty\r\n\r\n", "GET / HTTP/1.1\r\nHost: x\r\nA: b\r\n c\r\n\r\n",
            "GET / HTTP/1.1\r\nHost: x\r\nA: \0\r\n\r\n",
            "GET http://other/ HTTP/1.1\r\nHost: x\r\n\r\n", "GET * HTTP/1.1\r\nHost: x\r\n\r\n",
            "OPTIONS * HTTP/1.1\r\nHost: x\r\n\r\n", "CONNECT a:1 HTTP/1.1\r\nHost: a:1\r\n\r\n",
            "\0\0\0\0", "\u0016\u0003\u0001\u0002\u0000\u0001\u0000\u0001\u00fc\u0003\u0003", "PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n",
            $"GET /{new string('a', 9_000)} HTTP/1.1\r\nHost: x\r\n\r\n", $"GET / HTTP/1.1\r\nHost: x\r\nA: {new string('b', 40_000)}\r\n\r\n",
            $"GET / HTTP/1.1\r\nHost: x\r\n{string.Concat(Enumerable.Range(0, 150).Select(number => $"A{number}: b\r\n"))}\r\n",
            $"{new string('G', 20_000)} / HTTP/1.1\r\n\r\n",
            $"{post}Content-Length: -1\r\n\r\n[]", $"{post}Content-Length: 1e2\r\n\r\n[]",
            $"{post}Content-Length: 99999999999999999999\r\n\r\n[]", $"{post}Content-Length: 100\r\n\r\n[",
            $"{post}Content-Length: 2\r\nContent-Length: 3\r\n\r\n[]x",
            $"{post}Content-Length: 2\r\nTransfer-Encoding: chunked\r\n\r\n2\r\n[]\r\n0\r\n\r\n",
            $"{post}Transfer-Encoding: chunked\r\n\r\nzz\r\n[]\r\n0\r\n\r\n",
            $"{post}Transfer-Encoding: chunked\r\n\r\n-1\r\n\r\n",
            $"{post}Transfer-Encoding: chunked\r\n\r\n7fffffffffffffff\r\n[]",
            $"{post}Transfer-Encoding: chunked\r\n\r\n2\r\n[]",
            $"{post}Transfer-Encoding: chunked\r\n\r\n1\r\n[]\r\n0\r\n\r\n",
            $"{post}Transfer-Encoding: chunked, gzip\r\n\r\n[]",
            $"{post}Transfer-Encoding: gzip\r\n\r\n[]", $"{post}Transfer-Encoding: xchunked\r\n\r\n0\r\n\r\n",
            $"{post}Transfer-Encoding: chunked\r\n\r\n0\r\nBad trailer\r\n\r\n",
            $"{post}Transfer-Encoding: chunked\r\n\r\n2;{new string('e', 20_000)}\r\n[]\r\n0\r\n\r\n", $"{post}\r\n[]",
            $"{post}Expect: 200-ok\r\nContent-Length: 2\r\n\r\n[]",
            $"GET /v1/circuits HTTP/1.1\r\nHost: x\r\n{key}Content-Length: 5\r\n\r\nhello",
            $"GET /v1/circuits/%zz HTTP/1.1\r\nHost: x\r\n{key}\r\n",
            $"GET /v1/circuits/%00 HTTP/1.1\r\nHost: x\r\n{key}\r\n",
            $"GET /v1/circuits/%c0%af HTTP/1.1\r\nHost: x\r\n{key}\r\n",
            $"GET /v1/circuits/%ed%a0%80 HTTP/1.1\r\nHost: x\r\n{key}\r\n",
            $"GET /v1/circuits/a\u00ffb HTTP/1.1\r\nHost: x\r\n{key}\r\n",
            $"GET /v1/circuits?cursor=%ff%fe HTTP/1.1\r\nHost: x\r\n{key}\r\n",
            $"GET /v1/circuits?site=%ed%a0%80 HTTP/1.1\r\nHost: x\r\n{key}\r\n",
            $"GET /v1/changes?after=%00 HTTP/1.1\r\nHost: x\r\n{key}\r\n",
            $"GET /v1/sites?{string.Concat(Enumerable.Repeat("a=b&", 1_500))} HTTP/1.1\r\nHost: x\r\n{key}\r\n",
            $"GET /v1/sites?limit=1&limit=2 HTTP/1.1\r\nHost: x\r\n{key}\r\n",
            $"GET /v1/sites#fragment HTTP/1.1\r\nHost: x\r\n{key}\r\n", $"GET /v1/circuits HTTP/1.1\r\nHost: x\r\n{key}{key}\r\n",
        ];
        byte[] bytes = Encoding.Latin1.GetBytes(Hostile.Of(dice, all));
        return new MadeRequest(dice.Next(4) == 0 ? JsonMutator.Bend(bytes, dice) : bytes, EndsSending: true);
    }
}

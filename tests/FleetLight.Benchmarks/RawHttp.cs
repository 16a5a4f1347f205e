using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Text;

namespace FleetLight.Benchmarks;

/// <summary>
/// One kept-alive HTTP/1.1 connection that sends prepared bytes and reads answers with a Content-Length. It costs so
/// little that the two cores are left to the server, which is what is to be measured.
/// </summary>
internal sealed class RawHttp : IDisposable
{
    private readonly Socket socket = new(SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
    private byte[] buffer = new byte[64 * 1024];

    private RawHttp()
    {
    }

    /// <summary>Connects to a port of this machine.</summary>
    public static async Task<RawHttp> ConnectAsync(int port)
    {
        var http = new RawHttp();
        await http.socket.ConnectAsync(IPAddress.Loopback, port);
        return http;
    }

    /// <summary>The bytes of a request.</summary>
    public static byte[] Request(string method, string path, string key, byte[]? body = null, string type = "application/json", string more = "") =>
    [
        .. Encoding.ASCII.GetBytes(
            $"{method} {path} HTTP/1.1\r\nHost: localhost\r\nAuthorization: Bearer {key}\r\n{more}"
            + (body is null ? "\r\n" : $"Content-Type: {type}\r\nContent-Length: {body.Length}\r\n\r\n")),
        .. body ?? [],
    ];

    /// <summary>Sends a request and reads its answer; the body is valid until the next call.</summary>
    public async ValueTask<(int Status, ReadOnlyMemory<byte> Body, string Head)> SendAsync(ReadOnlyMemory<byte> request, bool wantHead = false)
    {
        for (var sent = 0; sent < request.Length;) sent += await socket.SendAsync(request[sent..]);
        var have = 0;
        while (true)
        {
            if (have == buffer.Length) Array.Resize(ref buffer, buffer.Length * 2);
            var read = await socket.ReceiveAsync(buffer.AsMemory(have));
            if (read == 0) throw new IOException("The server closed the connection.");
            have += read;
            var end = buffer.AsSpan(0, have).IndexOf("\r\n\r\n"u8);
            if (end < 0) continue;
            var start = end + 4;
            var length = ContentLength(buffer.AsSpan(0, end));
            if (start + length > buffer.Length) Array.Resize(ref buffer, start + length);
            while (have < start + length)
            {
                read = await socket.ReceiveAsync(buffer.AsMemory(have));
                if (read == 0) throw new IOException("The server closed the connection.");
                have += read;
            }

            var status = int.Parse(buffer.AsSpan(9, 3), CultureInfo.InvariantCulture);
            return (status, buffer.AsMemory(start, length), wantHead ? Encoding.ASCII.GetString(buffer, 0, end) : "");
        }
    }

    /// <inheritdoc/>
    public void Dispose() => socket.Dispose();

    private static int ContentLength(ReadOnlySpan<byte> head)
    {
        var at = head.IndexOf("Content-Length: "u8);
        if (at < 0) return 0;
        var value = head[(at + 16)..];
        var end = value.IndexOf((byte)'\r');
        return int.Parse(end < 0 ? value : value[..end], CultureInfo.InvariantCulture);
    }
}

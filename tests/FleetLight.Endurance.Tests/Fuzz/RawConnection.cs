using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Text;

namespace FleetLight.Endurance.Tests.Fuzz;

/// <summary>An answer as it came over the wire.</summary>
/// <param name="Status">Status; 0 where the service hung up without a word.</param>
/// <param name="Headers">Its headers.</param>
/// <param name="Body">Its body as text.</param>
internal sealed record RawAnswer(int Status, string Headers, string Body)
{
    /// <summary>The value of a header; empty where there is none.</summary>
    public string Header(string name)
    {
        foreach (string line in Headers.Split("\r\n"))
        {
            if (line.StartsWith(name + ":", StringComparison.OrdinalIgnoreCase)) return line[(name.Length + 1)..].Trim();
        }

        return "";
    }
}

/// <summary>A connection that writes any bytes, however wrong, and reads what is answered (HTTP/1.1, RFC 9112).</summary>
internal sealed class RawConnection(IPEndPoint address) : IDisposable
{
    private const int Kept = 64 * 1024;
    private static readonly TimeSpan UsuallyRefused = TimeSpan.FromMilliseconds(120);
    private Socket? socket;
    private byte[] buffer = new byte[Kept];
    private int filled;

    /// <summary>Sends and reads one answer. A request that nobody can know the end of is followed by the end of sending.</summary>
    public async Task<RawAnswer> SendAsync(byte[] request, bool endsSending, CancellationToken cancel)
    {
        bool isFresh = socket is null;
        try
        {
            RawAnswer answer = await TryAsync(request, endsSending, cancel);
            if (answer.Status != 0 || isFresh || endsSending) return answer;
        }
        catch (Exception hungUp) when (hungUp is SocketException or IOException)
        {
            // A kept connection may have ended between two requests, in order or not; the second try is on a new one.
            Dispose();
            if (isFresh) return new RawAnswer(0, "", "");
        }

        try
        {
            return await TryAsync(request, endsSending, cancel);
        }
        catch (Exception hungUp) when (hungUp is SocketException or IOException)
        {
            Dispose();
            return new RawAnswer(0, "", "");
        }
    }

    /// <summary>Hangs up.</summary>
    public void Dispose()
    {
        socket?.Dispose();
        socket = null;
        filled = 0;
    }

    private async Task<RawAnswer> TryAsync(byte[] request, bool endsSending, CancellationToken cancel)
    {
        if (socket is null)
        {
            socket = new Socket(SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
            await socket.ConnectAsync(address, cancel);
        }

        // Written and read at once: the service may answer, and hang up, before it has seen the end of a large body.
        Task writing = WriteAsync(socket, request, cancel);
        Task<RawAnswer> reading = ReadAsync(request.AsSpan().StartsWith("HEAD "u8), cancel);
        if (endsSending)
        {
            // Most are refused at once; only for the rest is the end of sending what brings an answer.
            await writing;
            await Task.WhenAny(reading, Task.Delay(UsuallyRefused, cancel));
            socket.Shutdown(SocketShutdown.Send);
        }

        RawAnswer answer = await reading;
        bool written = writing.IsCompletedSuccessfully;
        if (endsSending || !written || answer.Status == 0 || Is(answer, "Connection", "close") || Is(answer, "Content-Type", "text/event-stream")) Dispose();
        try
        {
            await writing;
        }
        catch (Exception hungUp) when (hungUp is SocketException or IOException or ObjectDisposedException)
        {
            Dispose();
        }

        return answer;
    }

    private static async Task WriteAsync(Socket socket, byte[] request, CancellationToken cancel)
    {
        for (int sent = 0; sent < request.Length;) sent += await socket.SendAsync(request.AsMemory(sent), cancel);
    }

    private async Task<RawAnswer> ReadAsync(bool isHead, CancellationToken cancel)
    {
        while (true)
        {
            int end;
            while ((end = buffer.AsSpan(0, filled).IndexOf("\r\n\r\n"u8)) < 0)
            {
                if (!await FillAsync(cancel)) return new RawAnswer(0, "", Text(filled));
            }

            string head = Text(end);
            int status = int.Parse(head.AsSpan(9, 3), CultureInfo.InvariantCulture);
            Drop(end + 4);
            if (status == 100) continue;
            RawAnswer answer = new(status, head, "");
            if (status is 204 or 304 || isHead || Is(answer, "Content-Type", "text/event-stream")) return answer;
            return answer with { Body = await BodyAsync(answer, cancel) };
        }
    }

    private async Task<string> BodyAsync(RawAnswer answer, CancellationToken cancel)
    {
        StringBuilder body = new();
        if (Is(answer, "Transfer-Encoding", "chunked"))
        {
            while (true)
            {
                int line;
                while ((line = buffer.AsSpan(0, filled).IndexOf("\r\n"u8)) < 0 && await FillAsync(cancel))
                {
                }

                if (line < 0) return body.ToString();
                int length = int.Parse(Text(line), NumberStyles.HexNumber, CultureInfo.InvariantCulture);
                Drop(line + 2);
                await TakeAsync(length + 2, length == 0 ? new StringBuilder() : body, cancel);
                if (length == 0) return body.ToString();
            }
        }

        if (!int.TryParse(answer.Header("Content-Length"), CultureInfo.InvariantCulture, out int most)) return "";
        await TakeAsync(most, body, cancel);
        return body.ToString();
    }

    private async Task TakeAsync(int length, StringBuilder body, CancellationToken cancel)
    {
        while (length > 0)
        {
            if (filled == 0 && !await FillAsync(cancel)) return;
            int take = Math.Min(length, filled);
            if (body.Length < Kept) body.Append(Text(take));
            Drop(take);
            length -= take;
        }
    }

    private async Task<bool> FillAsync(CancellationToken cancel)
    {
        if (filled == buffer.Length) Array.Resize(ref buffer, buffer.Length * 2);
        int read = await socket!.ReceiveAsync(buffer.AsMemory(filled), cancel);
        filled += read;
        return read > 0;
    }

    private void Drop(int bytes)
    {
        buffer.AsSpan(bytes, filled - bytes).CopyTo(buffer);
        filled -= bytes;
    }

    private string Text(int bytes) => Encoding.UTF8.GetString(buffer, 0, bytes);

    private static bool Is(RawAnswer answer, string name, string value) =>
        answer.Header(name).StartsWith(value, StringComparison.OrdinalIgnoreCase);
}

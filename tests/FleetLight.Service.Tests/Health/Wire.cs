using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;

namespace FleetLight.Service.Tests.Health;

/// <summary>The wire between the service and its database, which a test can cut and mend.</summary>
internal sealed class Wire : IAsyncDisposable
{
    private readonly TcpListener listener = new(IPAddress.Loopback, 0);
    private readonly string host;
    private readonly int port;
    private readonly ConcurrentDictionary<Socket, byte> open = new();
    private readonly Task listening;
    private volatile bool isCut;

    /// <summary>A whole wire to that server.</summary>
    public Wire(string host, int port)
    {
        (this.host, this.port) = (host, port);
        listener.Start();
        listening = ListenAsync();
    }

    /// <summary>Where to connect instead.</summary>
    public int Port => ((IPEndPoint)listener.LocalEndpoint).Port;

    /// <summary>Cuts it: every connection breaks, and none can be made.</summary>
    public void Cut()
    {
        isCut = true;
        foreach (Socket socket in open.Keys) Break(socket);
    }

    /// <summary>Mends it.</summary>
    public void Mend() => isCut = false;

    public async ValueTask DisposeAsync()
    {
        Cut();
        listener.Stop();
        await listening;
    }

    private async Task ListenAsync()
    {
        while (true)
        {
            Socket near;
            try
            {
                near = await listener.AcceptSocketAsync();
            }
            catch (Exception ended) when (ended is SocketException or ObjectDisposedException)
            {
                return;
            }

            _ = JoinAsync(near);
        }
    }

    private async Task JoinAsync(Socket near)
    {
        using Socket far = new(SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
        near.NoDelay = true;
        open[near] = open[far] = 0;
        try
        {
            if (isCut) return;
            await far.ConnectAsync(host, port);
            await Task.WhenAny(PassAsync(near, far), PassAsync(far, near));
        }
        catch (SocketException)
        {
            // The server is not there: the near end is closed like a far one that has gone.
        }
        finally
        {
            Break(near);
            Break(far);
        }
    }

    private async Task PassAsync(Socket from, Socket to)
    {
        byte[] buffer = new byte[64 * 1024];
        try
        {
            while (!isCut && await from.ReceiveAsync(buffer) is var count and > 0) await to.SendAsync(buffer.AsMemory(0, count));
        }
        catch (Exception broken) when (broken is SocketException or ObjectDisposedException)
        {
            // Either end has gone.
        }
    }

    private void Break(Socket socket)
    {
        open.TryRemove(socket, out _);
        // With a reset, as a lost machine or a cut cable ends in the end.
        socket.Close(0);
    }
}

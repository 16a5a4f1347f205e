using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;
using System.Text;

namespace FleetLight.Faults.Tests.Network;

/// <summary>What a proxy does to what passes through it.</summary>
internal enum Fault
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>Everything takes its time.</summary>
    Delay,

    /// <summary>Connections are broken as soon as they are made.</summary>
    Drop,

    /// <summary>Connections are broken in the middle of the request.</summary>
    CutRequest,

    /// <summary>The request is passed on and handled; the connection is broken before the answer.</summary>
    CutAnswer,

    /// <summary>The answer ends in its middle.</summary>
    HalfAnswer,

    /// <summary>The request is passed on; bytes without a meaning come back.</summary>
    Garbage,

    /// <summary>Somebody on the way answers with 502, without a word of when to come back.</summary>
    BadGateway,

    /// <summary>What is sent is swallowed, and nothing comes back.</summary>
    Silence,
}

/// <summary>A TCP proxy on this machine that spoils what passes through it, as a bad network does.</summary>
internal sealed class FaultProxy : IAsyncDisposable
{
    private const int CutAfterBytes = 700;
    private readonly TcpListener listener = new(IPAddress.Loopback, 0);
    private readonly IPEndPoint target;
    private readonly ConcurrentDictionary<Socket, byte> open = new();
    private readonly Task listening;
    private int harmed;

    /// <summary>A proxy to that port of this machine.</summary>
    public FaultProxy(int port)
    {
        target = new IPEndPoint(IPAddress.Loopback, port);
        listener.Start();
        listening = ListenAsync();
    }

    /// <summary>Where to connect instead.</summary>
    public int Port => ((IPEndPoint)listener.LocalEndpoint).Port;

    /// <summary>What it does to connections from now on; delay and silence also to those that are open.</summary>
    public Fault Fault { get; set; }

    /// <summary>How long each piece takes under <see cref="Fault.Delay"/>.</summary>
    public TimeSpan Delay { get; set; }

    /// <summary>Number of connections that it harmed.</summary>
    public int Harmed => harmed;

    /// <summary>Breaks every open connection.</summary>
    public void BreakAll()
    {
        foreach (Socket socket in open.Keys) Break(socket);
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        Fault = Fault.Drop;
        listener.Stop();
        BreakAll();
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

            _ = JoinAsync(near, Fault);
        }
    }

    private async Task JoinAsync(Socket near, Fault fault)
    {
        if (fault != Fault.None) Interlocked.Increment(ref harmed);
        using Socket far = new(SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
        near.NoDelay = true;
        open[near] = open[far] = 0;
        try
        {
            if (fault == Fault.Drop) return;
            if (fault == Fault.BadGateway)
            {
                await near.ReceiveAsync(new byte[64 * 1024]);
                await near.SendAsync(Encoding.ASCII.GetBytes("HTTP/1.1 502 Bad Gateway\r\nContent-Length: 3\r\nConnection: close\r\n\r\nbad"));
                near.Shutdown(SocketShutdown.Send);
                await Task.Delay(50);
                return;
            }

            await far.ConnectAsync(target);
            await Task.WhenAny(ThereAsync(near, far, fault), BackAsync(far, near, fault));
        }
        catch (Exception broken) when (broken is SocketException or ObjectDisposedException)
        {
            // One end is not there, or has gone.
        }
        finally
        {
            Break(near);
            Break(far);
        }
    }

    private async Task ThereAsync(Socket near, Socket far, Fault fault)
    {
        int passed = 0;
        await PassAsync(near, far, async piece =>
        {
            if (fault == Fault.CutRequest && passed + piece.Length > CutAfterBytes)
            {
                await far.SendAsync(piece[..Math.Clamp(CutAfterBytes - passed, 0, piece.Length)]);
                return false;
            }

            passed += piece.Length;
            await far.SendAsync(piece);
            return true;
        });
    }

    private Task BackAsync(Socket far, Socket near, Fault fault) => PassAsync(far, near, async piece =>
    {
        switch (fault)
        {
            case Fault.CutAnswer:
                return false;
            case Fault.HalfAnswer:
                await near.SendAsync(piece[..(piece.Length / 2)]);
                near.Shutdown(SocketShutdown.Send);
                await Task.Delay(50);
                return false;
            case Fault.Garbage:
                byte[] garbage = new byte[300];
                new Random(piece.Length).NextBytes(garbage);
                await near.SendAsync(garbage);
                near.Shutdown(SocketShutdown.Send);
                await Task.Delay(50);
                return false;
            default:
                await near.SendAsync(piece);
                return true;
        }
    });

    private async Task PassAsync(Socket from, Socket to, Func<ReadOnlyMemory<byte>, Task<bool>> pass)
    {
        byte[] buffer = new byte[64 * 1024];
        try
        {
            while (await from.ReceiveAsync(buffer) is var count and > 0)
            {
                if (Fault == Fault.Delay) await Task.Delay(Delay);
                // Swallowed, and the connection stays: neither end learns that the other cannot hear it.
                if (Fault == Fault.Silence) continue;
                if (!await pass(buffer.AsMemory(0, count))) return;
            }
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

using System.Net;
using System.Net.Sockets;

namespace FleetLight.Testing.Service;

/// <summary>A port of this machine that nobody listens on.</summary>
public static class FreePort
{
    /// <summary>Its number.</summary>
    public static int Find()
    {
        using TcpListener listener = new(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}

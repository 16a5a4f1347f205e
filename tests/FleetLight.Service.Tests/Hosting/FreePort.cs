using System.Net;
using System.Net.Sockets;

namespace FleetLight.Service.Tests.Hosting;

/// <summary>A port of this machine that nobody listens on.</summary>
internal static class FreePort
{
    public static int Find()
    {
        using TcpListener listener = new(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}

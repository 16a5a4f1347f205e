using System.Net.Sockets;
using System.Text;
using FleetLight.Contracts.Wire;

namespace FleetLight.Service.Tests.Intake;

/// <summary>A request whose connection is lost before its body is whole, as on the edge of a radio cell.</summary>
internal static class CutRequest
{
    public static async Task SendAsync(Uri address, string key, byte[] body, int sendOnly)
    {
        using TcpClient client = new();
        await client.ConnectAsync(address.Host, address.Port);
        NetworkStream stream = client.GetStream();
        string head = string.Join("\r\n",
            "POST /v1/events HTTP/1.1",
            $"Host: {address.Authority}",
            $"Authorization: Bearer {key}",
            $"Content-Type: {Envelope.BatchMediaType}",
            $"Content-Length: {body.Length}",
            "", "");
        await stream.WriteAsync(Encoding.ASCII.GetBytes(head));
        await stream.WriteAsync(body.AsMemory(0, sendOnly));
        client.Client.Shutdown(SocketShutdown.Send);
        await UntilClosedAsync(stream);
    }

    // The service closes in turn when it has given the request up: from then on it is done with it.
    private static async Task UntilClosedAsync(NetworkStream stream)
    {
        try
        {
            while (await stream.ReadAsync(new byte[1024]) > 0)
            {
            }
        }
        catch (IOException)
        {
            // A reset closes as well.
        }
    }
}

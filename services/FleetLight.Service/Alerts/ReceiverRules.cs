using System.Net;
using System.Net.Sockets;

namespace FleetLight.Service.Alerts;

/// <summary>
/// Where webhooks may lead: only to public addresses, so that nobody has the service call what stands behind it (itself, the
/// database, the instance's metadata, the office's printers). <c>Webhooks__AllowedNetworks__0=10.1.0.0/16</c> allows more.
/// </summary>
public sealed class ReceiverRules
{
    /// <summary>Why an address is refused.</summary>
    public const string Refusal = "The address is not a public one.";

    /// <summary>What to do about it.</summary>
    public const string Remedy = "Use an address that is reached from the internet, or have whoever runs the service allow its network.";

    // IANA IPv4 and IPv6 Special-Purpose Address Registries (RFC 6890 and its updates), and multicast (RFC 5771, RFC 4291).
    private static readonly IPNetwork[] NotPublic =
    [
        .. ((string[])
            [
                "0.0.0.0/8", "10.0.0.0/8", "100.64.0.0/10", "127.0.0.0/8", "169.254.0.0/16", "172.16.0.0/12", "192.0.0.0/24", "192.0.2.0/24",
                "192.31.196.0/24", "192.52.193.0/24", "192.88.99.0/24", "192.168.0.0/16", "192.175.48.0/24", "198.18.0.0/15", "198.51.100.0/24",
                "203.0.113.0/24", "224.0.0.0/4", "240.0.0.0/4",
                "2001::/23", "2001:db8::/32", "2002::/16", "2620:4f:8000::/48", "3fff::/20",
            ]).Select(IPNetwork.Parse),
    ];

    // The only part of IPv6 that is given out as global unicast addresses (RFC 4291, 2.4; IANA). It leaves out loopback, mapped,
    // translated (64:ff9b::), unique local, link-local and multicast addresses.
    private static readonly IPNetwork Global = IPNetwork.Parse("2000::/3");

    private readonly IPNetwork[] allowed;

    /// <summary>The rules, with the networks that the settings allow.</summary>
    public ReceiverRules(IConfiguration configuration) =>
        allowed = [.. (configuration.GetSection("Webhooks:AllowedNetworks").Get<string[]>() ?? []).Where(text => !string.IsNullOrEmpty(text)).Select(IPNetwork.Parse)];

    /// <summary>Whether a webhook may be delivered to that address.</summary>
    public bool May(IPAddress address)
    {
        ArgumentNullException.ThrowIfNull(address);
        if (address.IsIPv4MappedToIPv6) address = address.MapToIPv4();
        if (allowed.Any(network => network.Contains(address))) return true;
        return (address.AddressFamily == AddressFamily.InterNetwork || Global.Contains(address)) && !NotPublic.Any(network => network.Contains(address));
    }

    /// <summary>
    /// Whether every address behind the name may be told. A name that is not known now may be known later: it is looked up
    /// again, and its addresses are judged again, whenever something is delivered.
    /// </summary>
    public async Task<bool> MayTellAsync(Uri url, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(url);
        try
        {
            return (await Dns.GetHostAddressesAsync(url.IdnHost, cancel)).All(May);
        }
        catch (SocketException)
        {
            return true;
        }
    }

    /// <summary>
    /// Connects to the first address behind the name that may be told. The address that was judged is the one that is connected
    /// to, so a name that changes between the two gains nothing.
    /// </summary>
    public async ValueTask<Stream> ConnectAsync(SocketsHttpConnectionContext context, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(context);
        var found = await Dns.GetHostAddressesAsync(context.DnsEndPoint.Host, cancel);
        IPAddress[] may = [.. found.Where(May)];
        if (may.Length == 0) throw new HttpRequestException(Refusal);
        var socket = new Socket(SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
        try
        {
            await socket.ConnectAsync(may, context.DnsEndPoint.Port, cancel);
            return new NetworkStream(socket, ownsSocket: true);
        }
        catch
        {
            socket.Dispose();
            throw;
        }
    }
}

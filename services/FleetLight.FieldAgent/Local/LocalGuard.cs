using System.Net;
using FleetLight.Contracts.Wire;

namespace FleetLight.FieldAgent.Local;

/// <summary>
/// Lets in only programs of this machine that know the token. A page in a browser is none, not even one whose name was made to
/// lead to this machine: such a request names another host, or an origin.
/// </summary>
internal static class LocalGuard
{
    /// <summary>What is wrong with a request; nothing where it may pass.</summary>
    public static Problem? Check(IPAddress? from, string host, IHeaderDictionary headers, int port, string token)
    {
        if (from is not null && !IPAddress.IsLoopback(from)) return Refused(403, "Only programs on this machine may ask.", "");
        if (!IsOurs(host, port)) return Refused(421, $"'{(host.Length > 80 ? host[..80] : host)}' is not the agent's name.", $"Ask http://127.0.0.1:{port}/.");
        if (headers.Origin.Count > 0 || headers.ContainsKey("Sec-Fetch-Site")) return Refused(403, "The agent does not answer pages in a browser.", "");
        return LocalToken.Shows(headers.Authorization.Count == 1 ? headers.Authorization.ToString() : null, token)
            ? null
            : Refused(
                401, "The request does not show the agent's token.",
                $"Send 'Authorization: Bearer …' with what the file {LocalToken.FileName} in the agent's folder holds.");
    }

    private static bool IsOurs(string host, int port) =>
        host == $"127.0.0.1:{port}" || host == $"[::1]:{port}" || host.Equals($"localhost:{port}", StringComparison.OrdinalIgnoreCase);

    private static Problem Refused(int status, string detail, string remedy) => new()
    {
        Type = status == 401 ? ProblemTypes.KeyMissing : ProblemTypes.ScopeMissing,
        Title = "The agent does not let this in",
        Status = status,
        Detail = detail,
        Remedy = remedy.Length > 0 ? remedy : null,
    };
}

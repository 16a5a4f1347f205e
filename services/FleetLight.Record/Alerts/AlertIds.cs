using System.Security.Cryptography;
using System.Text;
using FleetLight.Contracts.Views;
using FleetLight.Record.Files;

namespace FleetLight.Record.Alerts;

/// <summary>Names alerts: the same cause has the same id for ever, on every node and in every rebuild.</summary>
public static class AlertIds
{
    private const int IdBytes = 12;

    /// <summary>24 hexadecimal digits of the SHA-256 over tenant, rule, subject and cause.</summary>
    /// <param name="tenant">The organisation.</param>
    /// <param name="finding">What was found; its severity, wording and evidence play no part.</param>
    public static string Of(string tenant, Finding finding)
    {
        // No part can hold the separator: tenants, rules and ids are printable, and causes are made of them.
        var name = string.Join(
            '\n', tenant, finding.Rule, Words.Of(finding.Subject.Kind), finding.Subject.Id, finding.Cause);
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(name)).AsSpan(0, IdBytes));
    }
}

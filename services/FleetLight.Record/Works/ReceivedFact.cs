using System.Text.Json;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;

namespace FleetLight.Record.Works;

/// <summary>Makes of a listed fact (<c>GET /v1/facts</c>) the fact as it is kept, for <see cref="MemoryWorks.Take"/>.</summary>
public static class ReceivedFact
{
    /// <summary>
    /// The fact as it is kept. Its standing is not needed: the corrections that decide it are listed as facts of their own.
    /// </summary>
    /// <returns>None where this build does not know the type: what is folded then lacks it, and whoever shows it should say so.</returns>
    public static RecordedFact? Of(FactView listed)
    {
        ArgumentNullException.ThrowIfNull(listed);
        if (FactTypes.Find(listed.Type) is not { } type || Read(listed.Data, type) is not { } data) return null;
        return new RecordedFact(
            new FactOrigin
            {
                Source = listed.Source,
                Id = listed.Id,
                RunningNumber = listed.RunningNumber,
                DeviceTime = listed.DeviceTime,
                HappenedAt = listed.HappenedAt,
                RecordedAt = listed.RecordedAt,
                TimeDoubt = listed.TimeDoubt,
                ClockErrorSeconds = listed.ClockErrorSeconds,
                Digest = listed.Digest,
                MendedBy = listed.MendedBy,
            },
            data);
    }

    private static IFact? Read(JsonElement data, Type type)
    {
        try
        {
            return data.Deserialize(type, WireJson.Lenient) as IFact;
        }
        catch (JsonException)
        {
            // Written by a newer service, in words that this build does not know.
            return null;
        }
    }
}

using FleetLight.Client.Sending;
using FleetLight.Contracts.Views;

namespace FleetLight.Client.Reading;

/// <summary>Which facts are asked for; what is absent leaves nothing out.</summary>
public sealed record FactFilter
{
    /// <summary>All facts from which the states of this site's things follow.</summary>
    public string? Site { get; init; }

    /// <summary>The history of this thing.</summary>
    public ThingRef? Thing { get; init; }

    /// <summary>Only those of this device.</summary>
    public string? Source { get; init; }

    /// <summary>Only those of this type, with its version.</summary>
    public string? Type { get; init; }

    /// <summary>Only those that happened then or later.</summary>
    public DateTimeOffset? HappenedFrom { get; init; }

    /// <summary>Only those that happened before.</summary>
    public DateTimeOffset? HappenedTo { get; init; }
}

/// <summary>Facts as they were recorded.</summary>
public sealed class FactApi
{
    private readonly Transport transport;

    internal FactApi(Transport transport) => this.transport = transport;

    /// <summary>Facts in the order in which they happened; on from a page's <c>next</c>, which is none at the end.</summary>
    /// <exception cref="FleetLightException">No answer came.</exception>
    public Task<FactPage> PageAsync(FactFilter filter, string? cursor = null, int limit = 500, CancellationToken cancel = default) =>
        ReadAsync(filter, "happened", cursor, limit, cancel);

    /// <summary>
    /// Facts in the order in which they were recorded. Keep <c>next</c>, which is always given, and ask from there again whenever
    /// there is a signal: at once while the page says that there is more, days later else. A fact may come twice.
    /// </summary>
    /// <exception cref="FleetLightException">No answer came.</exception>
    public Task<FactPage> FollowAsync(FactFilter filter, string? cursor = null, int limit = 500, CancellationToken cancel = default) =>
        ReadAsync(filter, "recorded", cursor, limit, cancel);

    private Task<FactPage> ReadAsync(FactFilter filter, string order, string? cursor, int limit, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(filter);
        return transport.ReadAsync<FactPage>(
            Call.Get(Pages.With(
                "v1/facts", ("order", order), ("limit", Call.Number(limit)), ("cursor", cursor), ("site", filter.Site),
                ("kind", Call.Word(filter.Thing?.Kind)), ("thing", filter.Thing?.Id), ("source", filter.Source), ("type", filter.Type),
                ("happenedFrom", Call.Time(filter.HappenedFrom)), ("happenedTo", Call.Time(filter.HappenedTo)))), cancel);
    }
}

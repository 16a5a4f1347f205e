using FleetLight.Contracts.Views;
using FleetLight.Service.Access;
using FleetLight.Service.FactLists;
using Marten;
using Npgsql;

namespace FleetLight.Service.Sites;

/// <summary>What was done on a day, by when it happened: grouped where it is kept, over the facts of that day alone.</summary>
public sealed class FleetDays(NpgsqlDataSource database, IDocumentStore store)
{
    private sealed record Group(string Source, string Type, string SiteId, string? SiteName, long Facts, DateTimeOffset First, DateTimeOffset Last);

    /// <summary>The day.</summary>
    public async Task<FleetDayView> ReadAsync(string organisation, DateOnly date, TimeSpan offset, CancellationToken cancel)
    {
        var from = new DateTimeOffset(date, TimeOnly.MinValue, offset);
        var to = from.AddDays(1);
        var groups = await GroupsAsync(organisation, from, to, cancel);
        var names = await DeviceNames.OfAsync(store, organisation, groups.Select(group => group.Source), cancel);
        return new FleetDayView
        {
            Date = date,
            From = from,
            To = to,
            Facts = groups.Sum(group => group.Facts),
            Devices =
            [
                .. groups.GroupBy(group => group.Source, StringComparer.Ordinal).OrderBy(device => device.Key, StringComparer.Ordinal)
                    .Select(device => Show(device.Key, names.GetValueOrDefault(device.Key), [.. device])),
            ],
        };
    }

    private static DeviceDay Show(string source, string? name, IReadOnlyList<Group> groups) => new()
    {
        Source = source,
        Name = name,
        Facts = groups.Sum(group => group.Facts),
        FactsByType = new SortedDictionary<string, long>(
            groups.GroupBy(group => group.Type).ToDictionary(type => type.Key, type => type.Sum(group => group.Facts)), StringComparer.Ordinal),
        Sites =
        [
            .. groups.GroupBy(group => group.SiteId, StringComparer.Ordinal)
                .Select(site => new DeviceDaySite
                {
                    Id = site.Key,
                    Name = site.First().SiteName,
                    Facts = site.Sum(group => group.Facts),
                    FirstAt = site.Min(group => group.First),
                    LastAt = site.Max(group => group.Last),
                })
                .OrderByDescending(site => site.Facts).ThenBy(site => site.Id, StringComparer.Ordinal),
        ],
        FirstAt = groups.Min(group => group.First),
        LastAt = groups.Max(group => group.Last),
    };

    private async Task<List<Group>> GroupsAsync(string organisation, DateTimeOffset from, DateTimeOffset to, CancellationToken cancel)
    {
        await using var command = database.CreateCommand(
            $"""
            select g.source, g.type, g.site_id, (
                select coalesce(s.line, s.body)::jsonb ->> 'name' from fl_state as s where s.tenant_id = $1 and s.kind = 'site' and s.id = g.site_id),
              g.facts, g.first, g.last
            from (select source, type, site_id, count(*) as facts, min(happened_at) as first, max(happened_at) as last from fl_fact
              where tenant_id = $1 and list = '{FactList.Everything}' and happened_at >= $2 and happened_at < $3 group by 1, 2, 3) as g
            """);
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        command.Parameters.Add(new NpgsqlParameter { Value = from.ToUniversalTime() });
        command.Parameters.Add(new NpgsqlParameter { Value = to.ToUniversalTime() });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var groups = new List<Group>();
        while (await reader.ReadAsync(cancel))
        {
            groups.Add(new Group(
                reader.GetString(0), reader.GetString(1), reader.GetString(2), reader.IsDBNull(3) ? null : reader.GetString(3), reader.GetInt64(4),
                reader.GetFieldValue<DateTimeOffset>(5), reader.GetFieldValue<DateTimeOffset>(6)));
        }

        return groups;
    }
}

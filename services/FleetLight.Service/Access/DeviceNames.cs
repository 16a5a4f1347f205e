using Marten;

namespace FleetLight.Service.Access;

/// <summary>What devices are called.</summary>
public static class DeviceNames
{
    /// <summary>The names of those of them that have or had a key. A device that was enrolled anew has several; the newest says its name.</summary>
    public static async Task<Dictionary<string, string>> OfAsync(
        IDocumentStore store, string organisation, IEnumerable<string> sources, CancellationToken cancel)
    {
        string?[] wanted = [.. sources.Distinct(StringComparer.Ordinal)];
        await using var session = store.QuerySession(organisation);
        var keys = await session.Query<KeyRecord>().Where(key => key.Organisation == organisation && wanted.Contains(key.Source)).ToListAsync(cancel);
        var names = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var key in keys.OrderBy(key => key.CreatedAt)) names[key.Source!] = key.Name;
        return names;
    }
}

using FleetLight.Client;
using FleetLight.Office.Shell.Keys;

namespace FleetLight.Office.Shell;

/// <summary>What people call the sites. Lists name them by id; their names are asked for once, all together, and again where one is new.</summary>
public sealed class SiteNames(OfficeSession session)
{
    private const int PageSize = 1000;

    private readonly Dictionary<string, string> names = new(StringComparer.Ordinal);
    private Task? reading;

    /// <summary>The name of a site; its id where none is known.</summary>
    public string Of(string site) => names.GetValueOrDefault(site, site);

    /// <summary>Sees to it that the names of these are known. A service that does not answer leaves them at their ids.</summary>
    /// <returns>Whether a name came.</returns>
    public async Task<bool> KnowAsync(IEnumerable<string> sites)
    {
        if (sites.All(names.ContainsKey)) return false;
        await (reading ??= ReadAsync());
        reading = null;
        // One that the list does not have is not asked for again.
        foreach (var site in sites) names.TryAdd(site, site);
        return true;
    }

    private async Task ReadAsync()
    {
        try
        {
            string? cursor = null;
            do
            {
                var page = await session.Client.Status.FleetSitePageAsync(cursor: cursor, limit: PageSize);
                foreach (var site in page.Items) names[site.Id] = site.Name ?? site.Id;
                cursor = page.Next;
            }
            while (cursor is not null);
        }
        catch (ProblemException notYet) when (notYet.Status == 503)
        {
            // The fleet's list is made up after a start; the sites themselves can be read meanwhile.
            await ReadOneByOneAsync();
        }
        catch (FleetLightException failed)
        {
            await session.FailedAsync(failed);
        }
    }

    private async Task ReadOneByOneAsync()
    {
        try
        {
            await foreach (var site in session.Client.Status.SitesAsync()) names[site.Id] = site.Name ?? site.Id;
        }
        catch (FleetLightException failed)
        {
            await session.FailedAsync(failed);
        }
    }
}

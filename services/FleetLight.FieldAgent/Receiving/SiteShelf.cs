using System.Text.Json;
using FleetLight.Contracts.Wire;
using FleetLight.FieldAgent.Outbox;

namespace FleetLight.FieldAgent.Receiving;

/// <summary>A thing of a site as the service last told it.</summary>
/// <param name="Kind">What it is: <c>site</c>, <c>circuit</c>, <c>model</c>, <c>duct</c>, <c>cable</c>, <c>box</c> or <c>alert</c>.</param>
/// <param name="Id">Its id.</param>
/// <param name="Site">Its site.</param>
/// <param name="Text">What the service told, as it told it.</param>
/// <param name="FetchedAt">When.</param>
internal sealed record KeptThing(string Kind, string Id, string Site, byte[] Text, DateTimeOffset FetchedAt)
{
    /// <summary>What the service told, as a record of the contract.</summary>
    public T As<T>() => JsonSerializer.Deserialize<T>(Text, WireJson.Lenient)!;
}

/// <summary>What is known here of the sites that the device is assigned, also without a connection.</summary>
internal sealed class SiteShelf(OutboxFile outbox)
{
    /// <summary>A thing; none where it is not known here.</summary>
    public KeptThing? Find(string kind, string id) => outbox.Read(statements => statements.Rows(
        "select kind, id, site, text, fetched_at from thing where kind = $kind and id = $id", Read, ("$kind", kind), ("$id", id)).FirstOrDefault());

    /// <summary>The things of a kind, of a site or of all.</summary>
    public IReadOnlyList<KeptThing> List(string kind, string? site = null) => outbox.Read(statements => statements.Rows(
        "select kind, id, site, text, fetched_at from thing where kind = $kind and ($site is null or site = $site) order by site, id",
        Read, ("$kind", kind), ("$site", site)));

    private static KeptThing Read(Microsoft.Data.Sqlite.SqliteDataReader row) =>
        new(row.GetString(0), row.GetString(1), row.GetString(2), (byte[])row[3], Moments.Read(row.GetString(4)));
}

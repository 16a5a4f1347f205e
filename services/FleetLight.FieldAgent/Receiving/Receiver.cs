using System.Text.Json;
using FleetLight.Client;
using FleetLight.Client.Reading;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.FieldAgent.Outbox;

namespace FleetLight.FieldAgent.Receiving;

/// <summary>
/// Fetches what is built, expected and open on the sites that the device is assigned: a new site whole, then what changed. Each
/// page's things and the cursor behind them are written together, so that nothing is passed over whenever it ends.
/// </summary>
internal sealed class Receiver(FleetLightClient client, OutboxFile outbox, TimeProvider clock)
{
    private const int PageSize = 200;

    /// <summary>Brings the sites up to date.</summary>
    /// <exception cref="FleetLightException">It was interrupted; what came until then is kept.</exception>
    public async Task RunAsync(CancellationToken cancel)
    {
        var assigned = (await client.Enrolment.SitesAsync(cancel)).Sites.Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal).ToArray();
        var known = outbox.Read(statements => statements.Get(Settings.Sites)) is { } text ? JsonSerializer.Deserialize<string[]>(text)! : [];
        var cursor = outbox.Read(statements => statements.Get(Settings.Cursor));
        if (cursor is null)
        {
            // The place in the feed first, the states after: what changes between is then seen twice, never passed over.
            cursor = (await client.Changes.PageAsync(ChangeApi.Now, 1, cancel)).Next!;
            outbox.Write("cursor", statements => statements.Set(Settings.Cursor, cursor));
        }

        foreach (var gone in known.Except(assigned)) Drop(gone, [.. known = [.. known.Where(site => site != gone)]]);
        foreach (var added in assigned.Except(known))
        {
            Keep(added, await FetchSiteAsync(added, cancel), [.. known = [.. known, added]]);
        }

        if (known.Length > 0) await FollowAsync(cursor, known, cancel);
        outbox.Write("received", statements => statements.Set(Settings.ReceivedAt, Moments.Text(clock.GetUtcNow())));
    }

    private async Task FollowAsync(string cursor, string[] sites, CancellationToken cancel)
    {
        while (true)
        {
            var page = await client.Changes.PageAsync(cursor, PageSize, cancel);
            if (page.Items.Count == 0) return;
            var things = new List<(string Kind, string Id, string Site, byte[]? Text)>();
            foreach (var change in page.Items.Where(change => change.SiteId is { } site && sites.Contains(site)).DistinctBy(change => (change.Kind, change.Id)))
                things.AddRange(await FetchAsync(change.Kind, change.Id, change.SiteId!, cancel));
            cursor = page.Next ?? page.Items[^1].Cursor;
            outbox.Write("changes", statements =>
            {
                foreach (var thing in things) Put(statements, thing);
                statements.Set(Settings.Cursor, cursor);
            });
        }
    }

    private async Task<List<(string Kind, string Id, string Site, byte[]? Text)>> FetchSiteAsync(string site, CancellationToken cancel)
    {
        List<(string, string, string, byte[]?)> things = [.. await FetchAsync("site", site, site, cancel)];
        await foreach (var circuit in client.Status.CircuitsAsync(site, cancel)) things.AddRange(await FetchAsync("circuit", circuit.Id, site, cancel));
        await foreach (var alert in client.Status.AlertsAsync(site, cancel: cancel))
            things.Add(("alert", alert.Id, site, JsonSerializer.SerializeToUtf8Bytes(alert, WireJson.Lenient)));
        foreach (var (kind, id) in await InTheGroundAsync(site, cancel)) things.AddRange(await FetchAsync(kind, id, site, cancel));
        return things;
    }

    // There is no list of a site's ducts, cables and boxes, but what is in the ground names them.
    private async Task<IReadOnlyList<(string Kind, string Id)>> InTheGroundAsync(string site, CancellationToken cancel)
    {
        JsonElement ground;
        try
        {
            ground = await client.AsBuilt.SiteAsync(site, cancel);
        }
        catch (ProblemException none) when (none.Problem.Type == ProblemTypes.NotFound)
        {
            return [];
        }

        return
        [
            .. ground.GetProperty("features").EnumerateArray()
                .Select(feature => (Kind: feature.GetProperty("properties").GetProperty("kind").GetString()!, Id: feature.GetProperty("id").GetString()!))
                .Where(thing => thing.Kind is "duct" or "cable" or "box")
                // A feature's id is unique in its collection: the kind stands before the thing's own id.
                .Select(thing => (thing.Kind, thing.Id[(thing.Kind.Length + 1)..])),
        ];
    }

    private async Task<IReadOnlyList<(string Kind, string Id, string Site, byte[]? Text)>> FetchAsync(string kind, string id, string site, CancellationToken cancel)
    {
        var named = Uri.EscapeDataString(id);
        return kind switch
        {
            "site" => [(kind, id, site, await client.Status.RawAsync($"v1/sites/{named}", cancel))],
            "circuit" =>
            [
                (kind, id, site, await client.Status.RawAsync($"v1/circuits/{named}", cancel)),
                ("model", id, site, await client.Status.RawAsync($"v1/circuits/{named}/model", cancel)),
            ],
            "duct" or "cable" => [(kind, id, site, await client.Status.RawAsync($"v1/{kind}s/{named}", cancel))],
            "box" => [(kind, id, site, await client.Status.RawAsync($"v1/boxes/{named}", cancel))],
            "alert" => [(kind, id, site, await StandingAsync(id, cancel))],
            // A kind that is newer than this agent.
            _ => [],
        };
    }

    private async Task<byte[]?> StandingAsync(string id, CancellationToken cancel) =>
        await client.Status.AlertAsync(id, cancel) is { Standing: not AlertStanding.Cleared } alert
            ? JsonSerializer.SerializeToUtf8Bytes(alert, WireJson.Lenient)
            : null;

    private void Drop(string site, string[] left) => outbox.Write("site-gone", statements =>
    {
        statements.Run("delete from thing where site = $site", ("$site", site));
        statements.Set(Settings.Sites, JsonSerializer.Serialize(left));
    });

    private void Keep(string site, List<(string Kind, string Id, string Site, byte[]? Text)> things, string[] now) => outbox.Write("site-new", statements =>
    {
        statements.Run("delete from thing where site = $site", ("$site", site));
        foreach (var thing in things) Put(statements, thing);
        statements.Set(Settings.Sites, JsonSerializer.Serialize(now));
    });

    private void Put(Statements statements, (string Kind, string Id, string Site, byte[]? Text) thing)
    {
        if (thing.Text is null)
        {
            statements.Run("delete from thing where kind = $kind and id = $id", ("$kind", thing.Kind), ("$id", thing.Id));
            return;
        }

        statements.Run(
            """
            insert into thing (kind, id, site, text, fetched_at) values ($kind, $id, $site, $text, $now)
            on conflict (kind, id) do update set site = excluded.site, text = excluded.text, fetched_at = excluded.fetched_at
            """,
            ("$kind", thing.Kind), ("$id", thing.Id), ("$site", thing.Site), ("$text", thing.Text), ("$now", Moments.Text(clock.GetUtcNow())));
    }
}

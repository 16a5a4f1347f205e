using System.Globalization;
using System.Text.Json;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Corrections;
using FleetLight.Record.Files;
using FleetLight.Service.Store;
using FleetLight.Service.Works;
using Npgsql;

namespace FleetLight.Service.Photos;

/// <summary>Which photos are asked for.</summary>
/// <param name="Site">Of this site.</param>
/// <param name="Kind">Of things of this kind.</param>
/// <param name="Things">Of these things.</param>
public sealed record PhotoFilter(string? Site, ThingKind? Kind, IReadOnlyCollection<string>? Things);

/// <summary>
/// Photos as rows, so that those of a thing or a site are listed without reading its state. A photo's fact stands in its
/// thing's file as well, where its corrections are found.
/// </summary>
public static class PhotoRows
{
    private const string Table = PhotoTables.OfPhotos;
    private const string Attachments = $"{Tables.Schema}.fl_attachment";

    /// <summary>Takes in the page's photos and corrections of photos.</summary>
    public static void Apply(
        PageWrites writes, string organisation, Dictionary<Guid, RecordedFact> facts, IReadOnlyList<CorrectedPair> pairs, FileSet files)
    {
        var rows = new Dictionary<Guid, (RecordedFact Fact, PhotoTaken? Counts)>();
        foreach (var pair in pairs)
        {
            if (pair.Target.Data is not PhotoTaken was || rows.ContainsKey(pair.TargetEventId)) continue;
            // A corrected photo stands in the file of the thing that it named first with all its corrections.
            var file = files.Of(new ThingRef(was.Kind, was.ThingId));
            var key = FactKey.Of(pair.Target.Of);
            var effective = EffectiveFacts.Of(file).Facts.First(fact => FactKey.Of(fact.Original.Of) == key);
            rows[pair.TargetEventId] = (pair.Target, effective.CountingData as PhotoTaken);
        }

        foreach (var (id, fact) in facts)
            if (fact.Data is PhotoTaken photo) rows.TryAdd(id, (fact, photo));
        Save(writes, organisation, rows);
    }

    /// <summary>A page of photos, newest first, with one more than asked for, and the cursor after each.</summary>
    public static async Task<List<(PhotoView Photo, string Cursor)>> ListAsync(
        NpgsqlDataSource database, string organisation, PhotoFilter filter, string after, int most, CancellationToken cancel)
    {
        await using var command = database.CreateCommand();
        var where = "p.tenant_id = $1";
        Add(organisation);
        if (TryPlace(after, out var at, out var id)) where += $" and (p.happened_at, p.event_id) < (${Add(at)}, ${Add(id)})";
        if (filter.Site is { } site) where += $" and p.site_id = ${Add(site)}";
        if (filter.Kind is { } kind) where += $" and p.kind = ${Add(ThingKeys.NameOf(kind))}";
        if (filter.Things is { } things) where += things.Count == 1 ? $" and p.thing_id = ${Add(things.First())}" : $" and p.thing_id = any(${Add(things.ToArray())})";
        command.CommandText =
            $"""
            select p.event_id, p.happened_at, p.body, a.media_type, a.size_bytes, a.kept_at from {Table} as p
            left join {Attachments} as a on a.tenant_id = p.tenant_id and a.sha256 = p.sha256
            where {where} order by p.happened_at desc, p.event_id desc limit {most}
            """;
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var found = new List<(PhotoView, string)>();
        while (await reader.ReadAsync(cancel))
        {
            var photo = JsonSerializer.Deserialize<PhotoView>(reader.GetString(2), WireJson.Lenient)!;
            if (!reader.IsDBNull(5))
            {
                photo = photo with
                {
                    InHand = true,
                    InHandSince = reader.GetFieldValue<DateTimeOffset>(5),
                    // What came counts: the digest says that it is what was meant.
                    MediaType = reader.GetString(3),
                    SizeBytes = reader.GetInt32(4),
                };
            }

            found.Add((photo, string.Create(CultureInfo.InvariantCulture, $"{reader.GetFieldValue<DateTimeOffset>(1).UtcTicks}:{reader.GetGuid(0):N}")));
        }

        return found;

        int Add(object value)
        {
            command.Parameters.Add(new NpgsqlParameter { Value = value });
            return command.Parameters.Count;
        }
    }

    /// <summary>Whether that is the place of a photo in the list.</summary>
    public static bool TryPlace(string after, out DateTimeOffset at, out Guid id)
    {
        (at, id) = (default, default);
        if (after.Split(':') is not [var ticks, var text]
            || !long.TryParse(ticks, NumberStyles.None, CultureInfo.InvariantCulture, out var number) || number > DateTimeOffset.MaxValue.UtcTicks
            || !Guid.TryParseExact(text, "N", out id))
            return false;
        at = new DateTimeOffset(number, TimeSpan.Zero);
        return true;
    }

    private static void Save(PageWrites writes, string organisation, Dictionary<Guid, (RecordedFact Fact, PhotoTaken? Counts)> rows)
    {
        var gone = rows.Where(row => row.Value.Counts is null).Select(row => row.Key).ToArray();
        if (gone.Length > 0) writes.Sql($"delete from {Table} where tenant_id = ? and event_id = any(?)", organisation, gone);
        var kept = rows.Where(row => row.Value.Counts is not null).Select(row => (row.Key, row.Value.Fact, Photo: row.Value.Counts!)).ToArray();
        if (kept.Length == 0) return;
        writes.Sql(
            $"""
            insert into {Table} (tenant_id, event_id, site_id, kind, thing_id, sha256, happened_at, body)
            select ?, r.* from unnest(?, ?, ?, ?, ?, ?, ?) as r
            on conflict (tenant_id, event_id) do update set site_id = excluded.site_id, kind = excluded.kind, thing_id = excluded.thing_id,
              sha256 = excluded.sha256, happened_at = excluded.happened_at, body = excluded.body
            """,
            organisation,
            kept.Select(row => row.Key).ToArray(),
            kept.Select(row => row.Photo.SiteId).ToArray(),
            kept.Select(row => ThingKeys.NameOf(row.Photo.Kind)).ToArray(),
            kept.Select(row => row.Photo.ThingId).ToArray(),
            kept.Select(row => row.Photo.Sha256).ToArray(),
            kept.Select(row => row.Fact.Of.HappenedAt.ToUniversalTime()).ToArray(),
            kept.Select(row => JsonSerializer.Serialize(View(row.Fact.Of, row.Photo), WireJson.Lenient)).ToArray());
    }

    private static PhotoView View(FactOrigin of, PhotoTaken photo) => new()
    {
        Fact = FactKey.Of(of),
        SiteId = photo.SiteId,
        Kind = photo.Kind,
        ThingId = photo.ThingId,
        Sha256 = photo.Sha256,
        MediaType = photo.MediaType,
        SizeBytes = photo.SizeBytes,
        Caption = photo.Caption,
        Position = photo.Position,
        TakenAt = of.HappenedAt.ToUniversalTime(),
        RecordedAt = of.RecordedAt.ToUniversalTime(),
        Source = of.Source,
        InHand = false,
    };
}

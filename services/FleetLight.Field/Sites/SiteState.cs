using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Field.Keeping;
using FleetLight.Record.Checks;
using FleetLight.Record.Circuits;
using FleetLight.Record.Files;
using FleetLight.Record.Works;

namespace FleetLight.Field.Sites;

/// <inheritdoc cref="ISiteState"/>
public sealed class SiteState(FieldStore store, TimeProvider clock) : ISiteState, IDisposable
{
    private const string SiteSetting = "site";
    private const string OpenedSetting = "opened-sites";
    private const string NamesSetting = "own-sites";
    private readonly Dictionary<string, SitePhoto> photos = new(StringComparer.Ordinal);
    private readonly SemaphoreSlim reading = new(1, 1);
    private double order;
    private double edition;
    private SiteParts? parts;
    private bool started;

    /// <inheritdoc/>
    public event Action? Changed;

    /// <inheritdoc/>
    public Identity? Identity { get; private set; }

    /// <inheritdoc/>
    public string? SiteId { get; private set; }

    /// <inheritdoc/>
    public string SiteName => SiteId is null ? "" : Works.SiteOf(SiteId)?.Name ?? AllSites.FirstOrDefault(site => site.Id == SiteId)?.Name ?? SiteId;

    /// <inheritdoc/>
    public MemoryWorks Works { get; private set; } = new();

    /// <inheritdoc/>
    public IReadOnlyList<DuctView> Ducts => Parts.Ducts;

    /// <inheritdoc/>
    public IReadOnlyList<CableView> Cables => Parts.Cables;

    /// <inheritdoc/>
    public IReadOnlyList<BoxView> Boxes => Parts.Boxes;

    /// <inheritdoc/>
    public IReadOnlyList<CircuitDesigned> Designs => Parts.Designs;

    /// <inheritdoc/>
    public IReadOnlyCollection<SitePhoto> Photos => photos.Values;

    /// <inheritdoc/>
    public DateTimeOffset? FetchedAt { get; private set; }

    /// <inheritdoc/>
    public OutboxSummary Outbox { get; private set; } = new();

    /// <inheritdoc/>
    public bool HasSignal { get; private set; } = true;

    /// <summary>Whether a newer version of the page waits to be taken over.</summary>
    public bool HasNewer { get; private set; }

    /// <summary>Ids of the sites that this phone is assigned.</summary>
    public IReadOnlyList<string> Assigned { get; private set; } = [];

    /// <summary>All sites that are known here, those opened here among them.</summary>
    public IReadOnlyList<KnownSite> AllSites { get; private set; } = [];

    private SiteParts Parts => parts ??= SiteId is null ? SiteParts.None : SiteParts.Of(Works, SiteId);

    /// <summary>Reads what is kept and begins to send. Once.</summary>
    public async Task StartAsync()
    {
        if (started) return;
        started = true;
        store.Changed += Told;
        Identity = await store.IdentityAsync();
        await ReadSitesAsync();
        SiteId = await store.SettingAsync<string>(SiteSetting);
        await ReadAgainAsync();
        Outbox = await store.SummaryAsync();
        HasSignal = await store.StartAsync();
        Tell();
    }

    /// <summary>Asks for what is new now and not within the minute; nothing waits for it.</summary>
    public void Fetch() => _ = store.SendAsync().AsTask();

    /// <summary>Goes to a site. It is fetched from now on.</summary>
    public async Task ChooseAsync(string siteId)
    {
        SiteId = siteId;
        await store.SetAsync(SiteSetting, siteId);
        var opened = await store.SettingAsync<string[]>(OpenedSetting) ?? [];
        if (!opened.Contains(siteId)) await store.SetAsync(OpenedSetting, (string[])[.. opened, siteId]);
        await ReadAgainAsync();
        Tell();
        // The site shows what is known of it; what is new comes when it comes.
        Fetch();
    }

    /// <summary>Opens a new site by a fact, and goes there.</summary>
    public async Task<RecordOutcome> OpenAsync(SiteOpened opened)
    {
        ArgumentNullException.ThrowIfNull(opened);
        var names = await store.SettingAsync<KnownSite[]>(NamesSetting) ?? [];
        var outcome = await RecordAsync([opened]);
        if (!outcome.Kept) return outcome;
        await store.SetAsync(NamesSetting, (KnownSite[])[.. names, new KnownSite(opened.SiteId, opened.Name, opened.Place)]);
        await ReadSitesAsync();
        await ChooseAsync(opened.SiteId);
        return outcome;
    }

    /// <inheritdoc/>
    public async Task<RecordOutcome> RecordAsync(
        IReadOnlyList<IFact> facts, IReadOnlyList<PhotoOf>? photos = null, DateTimeOffset? happenedAt = null, int? mends = null)
    {
        ArgumentNullException.ThrowIfNull(facts);
        if (Identity is not { } identity) throw new InvalidOperationException("The phone is not enrolled.");
        var problems = facts.SelectMany(FactCheck.Check).ToArray();
        if (problems.Length > 0) return new RecordOutcome([], problems);
        var time = happenedAt ?? clock.GetLocalNow();
        List<NewFact> made = [.. facts.Select((fact, index) => New(
            FactTypes.NameOf(fact.GetType()), fact.SiteId, JsonSerializer.Serialize(fact, fact.GetType(), WireJson.Strict), time, index == 0 ? mends : null))];
        var siteOfPhotos = facts.Count > 0 ? facts[0].SiteId : SiteId!;
        made.AddRange((photos ?? []).Select(photo => New(PhotoFact.Type, siteOfPhotos, PhotoFact.DataOf(siteOfPhotos, photo), time)));
        var numbers = await store.RecordAsync(identity.Source, made, [.. (photos ?? []).Select(photo => photo.Photo.Sha256!)]);

        // Folded in at once: what was just recorded shows without waiting for anything.
        KeptFact[] kept = [.. made.Select((fact, index) => new KeptFact
        {
            Source = identity.Source,
            Number = numbers[index],
            Id = fact.Id,
            Type = fact.Type,
            SiteId = fact.SiteId,
            Time = time,
            Text = $$"""{"data":{{fact.Data}}}""",
            State = KeptState.Waiting,
        }).Where(fact => fact.SiteId == SiteId)];
        Works.Take(kept.Select(OwnFact.Of).OfType<RecordedFact>());
        See(kept.Select(SitePhoto.Of).OfType<SitePhoto>());
        parts = null;
        Outbox = await store.SummaryAsync();
        Tell();
        return new RecordOutcome(numbers, []);
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        store.Changed -= Told;
        reading.Dispose();
    }

    private NewFact New(string type, string siteId, string data, DateTimeOffset time, int? mends = null) => new(
        Guid.CreateVersion7(clock.GetUtcNow()).ToString("N"), type, siteId, time.ToString("yyyy-MM-ddTHH:mm:ss.fffzzz", CultureInfo.InvariantCulture), data, mends);

    private async Task ReadSitesAsync()
    {
        var fetched = await store.SitesAsync();
        var own = await store.SettingAsync<KnownSite[]>(NamesSetting) ?? [];
        Assigned = fetched.Assigned;
        AllSites =
        [
            .. fetched.Sites.Concat(own).Concat(fetched.Assigned.Select(id => new KnownSite(id, null, null)))
                .DistinctBy(site => site.Id).OrderBy(site => site.Name ?? site.Id, StringComparer.CurrentCultureIgnoreCase),
        ];
    }

    // Everything of the site from the store: the service's list, and what was recorded here and is not in it yet.
    private Task ReadAgainAsync() => InTurnAsync(ReadAllAsync);

    private Task ReadOnAsync() => InTurnAsync(ReadMoreAsync);

    // One reading after the other: what began before a page of facts came must not end after it and put the older state in its place.
    private async Task InTurnAsync(Func<Task> read)
    {
        await reading.WaitAsync();
        try
        {
            await read();
        }
        finally
        {
            reading.Release();
        }
    }

    private async Task ReadAllAsync()
    {
        var works = new MemoryWorks { Judging = await JudgingAsync() };
        order = edition = 0;
        photos.Clear();
        if (SiteId is { } siteId)
        {
            var listed = await store.FactsAfterAsync(siteId, 0);
            works.Take(OwnFact.Listed(listed.Json));
            await TakeOwnAsync(works, siteId);
            See(SitePhoto.Listed(listed.Json));
            Remember(listed);
        }
        else
        {
            FetchedAt = null;
        }

        Works = works;
        parts = null;
    }

    private async Task ReadMoreAsync()
    {
        if (SiteId is not { } siteId) return;
        var listed = await store.FactsAfterAsync(siteId, order);
        if (listed.Edition > edition)
        {
            await ReadAllAsync();
        }
        else
        {
            Works.Take(OwnFact.Listed(listed.Json));
            See(SitePhoto.Listed(listed.Json));
            Remember(listed);
            parts = null;
        }
    }

    private async Task TakeOwnAsync(MemoryWorks works, string siteId)
    {
        var own = (await store.OwnOfAsync(siteId)).Where(fact => works.FactOf(FactKey.Of(fact.Source, fact.Id)) is null).ToArray();
        works.Take(own.Select(OwnFact.Of).OfType<RecordedFact>());
        See(own.Select(SitePhoto.Of).OfType<SitePhoto>());
    }

    private void See(IEnumerable<SitePhoto> more)
    {
        foreach (var photo in more) photos[photo.Fact] = photo;
    }

    private void Remember(FactsAfter listed)
    {
        (order, edition) = (listed.Order, listed.Edition);
        FetchedAt = listed.FetchedAt is { } at ? DateTimeOffset.FromUnixTimeMilliseconds((long)at) : null;
    }

    // A fact that the service refused counts for nothing until it is mended.
    private async Task DropRefusedAsync()
    {
        foreach (var fact in (await store.OpenAsync()).Where(fact => fact.State == KeptState.Refused))
            if (Works.FactOf(FactKey.Of(fact.Source, fact.Id)) is { } known && known.Of.Digest.Length == 0) Works.Drop(FactKey.Of(fact.Source, fact.Id));
        parts = null;
    }

    private async Task<Judging> JudgingAsync()
    {
        var view = await store.SettingAsync<JsonObject>("judging");
        return view?.Deserialize<JudgingView>(WireJson.Lenient) is { } set ? new Judging(set.Version, set.Settings) : Judging.Default;
    }

    private async void Told(string kind, string? siteId)
    {
        switch (kind)
        {
            case "online" or "offline":
                HasSignal = kind == "online";
                break;
            case "newer":
                HasNewer = true;
                break;
            case "identity":
                Identity = await store.IdentityAsync();
                await ReadSitesAsync();
                SiteId = await store.SettingAsync<string>(SiteSetting);
                await ReadAgainAsync();
                break;
            case "sites":
                await ReadSitesAsync();
                break;
            case "facts" or "fetched" when siteId == SiteId:
                await ReadOnAsync();
                break;
            default:
                break;
        }

        if (kind is "outbox" or "standing" or "identity")
        {
            Outbox = await store.SummaryAsync();
            if (Outbox.Refused > 0) await DropRefusedAsync();
        }

        Tell();
    }

    private void Tell() => Changed?.Invoke();
}

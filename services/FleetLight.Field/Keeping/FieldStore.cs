using System.Text.Json.Nodes;
using FleetLight.Contracts.Wire;
using Microsoft.JSInterop;

namespace FleetLight.Field.Keeping;

/// <summary>
/// What this phone keeps (<c>wwwroot/store.js</c>), and what tells that it changed. An answer of <see cref="RecordAsync"/> means that
/// the facts are on the disk.
/// </summary>
public sealed class FieldStore(IJSRuntime script) : IDisposable
{
    private DotNetObjectReference<FieldStore>? self;

    /// <summary>Something changed: what (<c>outbox</c>, <c>standing</c>, <c>sites</c>, <c>facts</c>, …), and of which site.</summary>
    public event Action<string, string?>? Changed;

    /// <summary>Starts sending; answers whether there is a signal.</summary>
    public ValueTask<bool> StartAsync() => script.InvokeAsync<bool>("fleetlightPage.start", self ??= DotNetObjectReference.Create(this));

    /// <summary>Called by the browser's side.</summary>
    [JSInvokable]
    public void Told(string kind, string? siteId) => Changed?.Invoke(kind, siteId);

    /// <summary>Who this phone is; none where it is not enrolled.</summary>
    public ValueTask<Identity?> IdentityAsync() => script.InvokeAsync<Identity?>("fleetlightStore.setting", "identity");

    /// <summary>The key, for calls of a page's own while there is a signal; none where the phone is not enrolled.</summary>
    public async Task<string?> KeyAsync() => (await script.InvokeAsync<JsonObject?>("fleetlightStore.setting", "identity"))?["key"]?.GetValue<string>();

    /// <summary>Exchanges a one-time code for this phone's key.</summary>
    public ValueTask<EnrolOutcome> EnrolAsync(string address, string code) =>
        script.InvokeAsync<EnrolOutcome>("fleetlightSender.enrol", address, code, "phone, in a browser");

    /// <summary>A one-time code that stood in the address.</summary>
    public ValueTask<string?> CodeGivenAsync() => script.InvokeAsync<string?>("fleetlightPage.takeCode");

    /// <summary>Records facts, all or none; answers their running numbers. When it answers they are on the disk.</summary>
    public ValueTask<int[]> RecordAsync(string source, IReadOnlyList<NewFact> facts, IReadOnlyList<string> photos) =>
        script.InvokeAsync<int[]>("fleetlightPage.record", new { source, facts, photos });

    /// <summary>Facts of a site that were recorded here and count.</summary>
    public ValueTask<KeptFact[]> OwnOfAsync(string siteId) => script.InvokeAsync<KeptFact[]>("fleetlightStore.ownOf", siteId);

    /// <summary>Facts that somebody or the sender still has to see to.</summary>
    public ValueTask<KeptFact[]> OpenAsync() => script.InvokeAsync<KeptFact[]>("fleetlightStore.open");

    /// <summary>A refused fact is seen to elsewhere: it is kept and no longer listed.</summary>
    public ValueTask DismissAsync(KeptFact fact) => script.InvokeVoidAsync("fleetlightStore.dismiss", fact.Source, fact.Number);

    /// <summary>How sending stands.</summary>
    public ValueTask<OutboxSummary> SummaryAsync() => script.InvokeAsync<OutboxSummary>("fleetlightStore.summary");

    /// <summary>Sends now, and fetches what is new; answers when it is through, which may take long on a poor link.</summary>
    public ValueTask SendAsync() => script.InvokeVoidAsync("fleetlightSender.send", new { cutShort = true });

    /// <summary>On which site a thing is, by the service.</summary>
    /// <param name="kind">Its kind, as in an address.</param>
    /// <param name="id">Its id.</param>
    public ValueTask<LookedUp> SiteOfAsync(string kind, string id) => script.InvokeAsync<LookedUp>("fleetlightSender.siteOf", kind, id);

    /// <summary>Saves labels as PDF, as the service draws them; answers what is in the way, none where they were saved.</summary>
    /// <param name="siteId">The site.</param>
    /// <param name="query">Which, and how wide: parameters of the service.</param>
    public ValueTask<string?> SaveLabelsAsync(string siteId, string query) => script.InvokeAsync<string?>("fleetlightSender.saveLabels", siteId, query);

    /// <summary>The sites that the key may read.</summary>
    public async Task<SiteList> SitesAsync() => await script.InvokeAsync<SiteList?>("fleetlightStore.setting", "sites") ?? new SiteList();

    /// <summary>A site's facts from the service.</summary>
    public ValueTask<FactsAfter> FactsAfterAsync(string siteId, double after) => script.InvokeAsync<FactsAfter>("fleetlightStore.factsAfter", siteId, after);

    /// <summary>A setting of the page's own.</summary>
    public ValueTask<T?> SettingAsync<T>(string name) => script.InvokeAsync<T?>("fleetlightStore.setting", name);

    /// <summary>Sets one.</summary>
    public ValueTask SetAsync<T>(string name, T value) => script.InvokeVoidAsync("fleetlightStore.set", name, value);

    /// <summary>What was chosen last under that name.</summary>
    public async Task<JsonObject?> DraftAsync(string name) =>
        await script.InvokeAsync<string?>("fleetlightStore.draft", name) is { } text ? JsonNode.Parse(text) as JsonObject : null;

    /// <summary>Keeps what was chosen.</summary>
    public ValueTask KeepDraftAsync(string name, JsonObject? value) =>
        script.InvokeVoidAsync("fleetlightStore.keepDraft", name, value?.ToJsonString(WireJson.Lenient));

    /// <summary>Where the phone is.</summary>
    public ValueTask<FoundPosition> PositionAsync() => script.InvokeAsync<FoundPosition>("fleetlightPage.position");

    /// <summary>An address for a photo whose bytes are here.</summary>
    public ValueTask<string?> PhotoAddressAsync(string sha256) => script.InvokeAsync<string?>("fleetlightPage.photoAddress", sha256);

    /// <summary>Whether the browser will not clear what is kept here by itself.</summary>
    public ValueTask<bool> KeepsAsync() => script.InvokeAsync<bool>("fleetlightPage.keeps");

    /// <summary>Shows a page from its top.</summary>
    public ValueTask ToTopAsync() => script.InvokeVoidAsync("fleetlightPage.toTop");

    /// <summary>Puts the focus on the input of a form that asks for a member, or for what is around it.</summary>
    /// <param name="path">The member, <c>tapes[0].distanceMetres</c>.</param>
    public ValueTask GoToFieldAsync(string path) => script.InvokeVoidAsync("fleetlightPage.goToField", path);

    /// <summary>Takes a newer version of the page over.</summary>
    public ValueTask TakeOverAsync() => script.InvokeVoidAsync("fleetlightPage.takeOver");

    /// <inheritdoc/>
    public void Dispose() => self?.Dispose();
}

using FleetLight.Client.Reading;
using FleetLight.Client.Sending;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;

namespace FleetLight.Client.Offices;

/// <summary>What an office does: devices and their codes, facts that were refused, how circuits are judged, who did what.</summary>
public sealed class OfficeApi
{
    private readonly Transport transport;

    internal OfficeApi(Transport transport) => this.transport = transport;

    /// <summary>A page of the devices, in the order of their sources; only those silent for so many days where that is asked, d.</summary>
    public Task<Page<ListedDevice>> DevicesAsync(string? cursor = null, int limit = 100, int? silentDays = null, CancellationToken cancel = default) =>
        ReadAsync<Page<ListedDevice>>(Pages.With("v1/devices", ("silentDays", Call.Number(silentDays)), ("cursor", cursor), ("limit", Call.Number(limit))), cancel);

    /// <summary>Assigns sites to a device in place of those before.</summary>
    public Task<AssignedSites> AssignAsync(string source, IReadOnlyList<string> sites, CancellationToken cancel = default) =>
        transport.ReadAsync<AssignedSites>(Call.With(HttpMethod.Put, $"v1/devices/{Escape(source)}/sites", new AssignedSites { Sites = [.. sites] }), cancel);

    /// <summary>Reports a device lost: all its keys end at once. What it recorded stays.</summary>
    public Task<LostDevice> LostAsync(string source, CancellationToken cancel = default) =>
        transport.ReadAsync<LostDevice>(Call.With(HttpMethod.Post, $"v1/devices/{Escape(source)}/lost", new { }), cancel);

    /// <summary>A page of the one-time codes that were handed out, newest first.</summary>
    public Task<Page<HandedOutCode>> CodesAsync(string? cursor = null, int limit = 100, CancellationToken cancel = default) =>
        ReadAsync<Page<HandedOutCode>>(Pages.With("v1/enrolments", ("cursor", cursor), ("limit", Call.Number(limit))), cancel);

    /// <summary>Makes a one-time code. It is in this answer and nowhere else.</summary>
    public Task<HandedOutCode> MakeCodeAsync(CodeRequest wanted, CancellationToken cancel = default) =>
        transport.ReadAsync<HandedOutCode>(Call.With(HttpMethod.Post, "v1/enrolments", wanted) with { Repeatable = false }, cancel);

    /// <summary>Takes a one-time code back.</summary>
    public Task WithdrawCodeAsync(string id, CancellationToken cancel = default) =>
        transport.SendAsync(new Call(HttpMethod.Delete, $"v1/enrolments/{Escape(id)}"), null, cancel);

    /// <summary>A page of the facts that were refused, newest first.</summary>
    /// <param name="state">Which: <c>open</c>, <c>mended</c> or <c>dismissed</c>.</param>
    /// <param name="cursor">Where to go on.</param>
    /// <param name="limit">Most members of the page, 1 to 1,000.</param>
    /// <param name="cancel">Ends it.</param>
    public Task<Page<RefusedEvent>> RefusedAsync(string state = "open", string? cursor = null, int limit = 100, CancellationToken cancel = default) =>
        ReadAsync<Page<RefusedEvent>>(Pages.With("v1/refused", ("state", state), ("cursor", cursor), ("limit", Call.Number(limit))), cancel);

    /// <summary>One refused fact, as it was sent.</summary>
    public Task<RefusedEvent> RefusedAsync(string id, CancellationToken cancel) => ReadAsync<RefusedEvent>($"v1/refused/{Escape(id)}", cancel);

    /// <summary>Hands a mended fact in: the whole event. One that is still wrong stays set aside.</summary>
    public Task<BatchReceipt> ResubmitAsync(string id, ReadOnlyMemory<byte> mended, CancellationToken cancel = default) => transport.ReadAsync<BatchReceipt>(
        new Call(HttpMethod.Post, $"v1/refused/{Escape(id)}/resubmit") { Body = mended, MediaType = Envelope.SingleMediaType }, cancel);

    /// <summary>Decides that a refused fact is not needed.</summary>
    public Task<RefusedEvent> DismissAsync(string id, string note, CancellationToken cancel = default) =>
        transport.ReadAsync<RefusedEvent>(Call.With(HttpMethod.Post, $"v1/refused/{Escape(id)}/dismiss", new { note }), cancel);

    /// <summary>A page of what the states have to do without.</summary>
    public Task<Page<PieceAside>> SetAsideAsync(string? cursor = null, int limit = 100, CancellationToken cancel = default) =>
        ReadAsync<Page<PieceAside>>(Pages.With("v1/set-aside", ("cursor", cursor), ("limit", Call.Number(limit))), cancel);

    /// <summary>Has everything that was set aside taken in again.</summary>
    public Task<TakingInView> TakeInAsync(CancellationToken cancel = default) =>
        transport.ReadAsync<TakingInView>(Call.With(HttpMethod.Post, "v1/set-aside/take-in", new { }), cancel);

    /// <summary>How circuits are judged.</summary>
    public Task<JudgingView> JudgingAsync(CancellationToken cancel = default) => ReadAsync<JudgingView>("v1/judging", cancel);

    /// <summary>Sets how circuits are judged, whole; all of them are then judged again.</summary>
    public Task<JudgingView> SetJudgingAsync(JudgingSettings settings, CancellationToken cancel = default) =>
        transport.ReadAsync<JudgingView>(Call.With(HttpMethod.Put, "v1/judging", settings), cancel);

    /// <summary>A page of who administered what, newest first.</summary>
    public Task<Page<AuditEntry>> AuditAsync(string? cursor = null, int limit = 100, CancellationToken cancel = default) =>
        ReadAsync<Page<AuditEntry>>(Pages.With("v1/audit", ("cursor", cursor), ("limit", Call.Number(limit))), cancel);

    private Task<T> ReadAsync<T>(string path, CancellationToken cancel) => transport.ReadAsync<T>(Call.Get(path), cancel);

    private static string Escape(string text) => Uri.EscapeDataString(text);
}

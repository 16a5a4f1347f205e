using System.Text.Json;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Office.Dossiers;
using FleetLight.Office.Shell.Live;
using FleetLight.PageParts.Designing;
using FleetLight.PageParts.SitePages;
using FleetLight.Record.Circuits;
using FleetLight.Record.Designs;
using FleetLight.Record.Materials;
using FleetLight.Record.Sites;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Forms;

namespace FleetLight.Office.Design;

/// <summary>The sheet of a design.</summary>
public sealed partial class DesignPage : LivePage
{
    private static readonly JsonSerializerOptions Readable = new(WireJson.Lenient) { WriteIndented = true };

    private const int MostFileBytes = 4 * 1024 * 1024;

    // Between keystrokes nothing is worked out; after so long a pause it is.
    private static readonly TimeSpan Pause = TimeSpan.FromMilliseconds(250);

    private DesignSheet sheet = DesignSheet.Empty();
    private DesignSheet opened = DesignSheet.Empty();
    private SheetRead read = new(null, []);
    private LiveExpectation? expectation;
    private MaterialsView? materials;
    private SheetImport? imported;
    private IReadOnlyList<SiteView> sites = [];
    private AsBuiltSite built = new();
    private string? builtSite;
    private IReadOnlyList<DuctRow> ducts = [];
    private AssumptionsInput? assumed;
    private CircuitDesigned? recorded;
    private CircuitView? recordedState;
    private OfficeRecorder? recorder;
    private ITimer? wait;
    private SheetDraft? draft;
    private bool draftIsKept;
    private bool saving;
    private bool mustConfirm;
    private bool recordedMeanwhile;
    private string? said;
    private string? savedCircuit;

    /// <summary>The circuit whose design is changed; a new one where absent.</summary>
    [SupplyParameterFromQuery(Name = "circuit")]
    public string? Circuit { get; set; }

    /// <summary>The site of a new design.</summary>
    [SupplyParameterFromQuery(Name = "site")]
    public string? Site { get; set; }

    [Inject]
    private DraftShelf Drafts { get; set; } = null!;

    /// <inheritdoc/>
    protected override object What => (Circuit, Site);

    private string Heading => recorded is null ? "Design a circuit" : $"Change the design of {recorded.Name}";

    private bool IsChanged => !ReferenceEquals(sheet, opened);

    private bool MayRecord => Session.Holder is { Source: not null } && Session.May("post-events");

    private IEnumerable<string> Places => sheet.Fittings.Select(row => row["fittingId"])
        .Concat(sheet.Runs.Select(row => row["from"])).Concat(sheet.Runs.Select(row => row["to"])).Concat(built.Boxes.Select(box => box.Id))
        .Prepend("driver").Where(place => place.Length > 0).Distinct(StringComparer.Ordinal);

    private IEnumerable<string> CableIds => built.Cables.Select(cable => cable.Id);

    /// <inheritdoc/>
    // Whoever writes must not have the sheet changed under their hands: it is read once, and held against the record when it is saved.
    protected override bool Concerns(ChangeView change) => false;

    /// <inheritdoc/>
    protected override async Task<bool> LoadAsync(CancellationToken cancel)
    {
        recorder ??= new OfficeRecorder(Session, Clock);
        (recorded, recordedState, imported, said, savedCircuit, mustConfirm, recordedMeanwhile) = (null, null, null, null, null, false, false);
        sites = await SitesAsync(cancel);
        if (await Session.Client.FindAsync<JudgingView>("v1/judging", cancel) is { } judging) assumed = DesignedCircuit.Assumed(judging);
        if (Circuit is { Length: > 0 } id)
        {
            recorded = await DesignAsync(id, cancel);
            recordedState = await Session.Client.Status.CircuitAsync(id, cancel);
        }

        if (recorded is not null) sheet = SheetWriter.Of(recorded);
        else
        {
            sheet = DesignSheet.Empty(Site ?? recordedState?.SiteId);
            sheet = sheet with { Head = sheet.Head.With("circuitId", Circuit ?? $"c-{Guid.NewGuid():N}"[..10]) };
        }

        opened = sheet;
        draft = await Drafts.FindAsync(Session, Circuit, Site);
        draftIsKept = draft is not null;
        if (draft is not null)
        {
            sheet = draft.Sheet;
            // What was recorded meanwhile must not be covered unseen.
            if (recorded is not null && draft.Began != SheetDraft.Text(opened)) recordedMeanwhile = true;
        }

        await SiteChangedAsync(cancel);
        WorkOut();
        return true;
    }

    /// <inheritdoc/>
    protected override void Dispose(bool disposing)
    {
        wait?.Dispose();
        base.Dispose(disposing);
    }

    private async Task<IReadOnlyList<SiteView>> SitesAsync(CancellationToken cancel)
    {
        var list = new List<SiteView>();
        await foreach (var site in Session.Client.ListAsync<SiteView>("v1/sites?limit=500", 2000, cancel)) list.Add(site);
        return list;
    }

    private Task<CircuitDesigned?> DesignAsync(string circuit, CancellationToken cancel) =>
        Session.Client.FindAsync<CircuitDesigned>($"v1/circuits/{Uri.EscapeDataString(circuit)}/design", cancel);

    private async Task SiteChangedAsync(CancellationToken cancel)
    {
        var site = sheet.Head["siteId"];
        if (site == builtSite) return;
        builtSite = site;
        built = site.Length > 0 && await Session.Client.FindAsync<JsonNode>($"v1/sites/{Uri.EscapeDataString(site)}/as-built", cancel) is { } collection
            ? AsBuiltSite.Of(collection.Deserialize<JsonElement>())
            : new AsBuiltSite();
        ducts = DuctRow.Of(built.Ducts, built.Cables);
    }

    private async Task Change(DesignSheet changed)
    {
        var isOtherSite = changed.Head["siteId"] != sheet.Head["siteId"];
        (sheet, said, mustConfirm) = (changed, null, false);
        read = SheetReader.Read(sheet);
        draftIsKept = await Drafts.KeepAsync(Session, Circuit, Site, SheetDraft.Write(sheet, opened, Clock.GetUtcNow()));
        wait?.Dispose();
        wait = Clock.CreateTimer(_ => _ = InvokeAsync(WorkOutAndShow), null, Pause, Timeout.InfiniteTimeSpan);
        if (isOtherSite)
        {
            try
            {
                await SiteChangedAsync(Left);
            }
            catch (FleetLight.Client.FleetLightException failed)
            {
                // The sheet goes on without the site's ducts and cables.
                said = await Session.FailedAsync(failed);
                builtSite = null;
            }
        }
    }

    private async Task DropDraftAsync()
    {
        await Drafts.DropAsync(Session, Circuit, Site);
        (draft, sheet, said, mustConfirm, recordedMeanwhile) = (null, opened, null, false, false);
        await SiteChangedAsync(Left);
        WorkOut();
    }

    private void WorkOutAndShow()
    {
        if (Left.IsCancellationRequested) return;
        WorkOut();
        StateHasChanged();
    }

    private void WorkOut()
    {
        read = SheetReader.Read(sheet);
        if (!read.IsSound)
        {
            // The figures of the last sound sheet would be those of another design.
            (expectation, materials) = (null, null);
            return;
        }

        var design = read.Design!;
        expectation = LiveExpectation.Of(design, assumed, built.Cables, built.Boxes);
        if (expectation.Problems.Count > 0) read = read with { Problems = expectation.Problems };
        materials = MaterialList.OfCircuit(
            new SiteStates
            {
                SiteId = design.SiteId,
                Cables = built.Cables,
                Ducts = built.Ducts,
                Boxes = built.Boxes,
                Circuits = recordedState is null ? [] : [recordedState],
                Designs = new Dictionary<string, CircuitDesigned> { [design.CircuitId] = design },
            },
            design.CircuitId);
    }

    private async Task OpenFileAsync(InputFileChangeEventArgs change)
    {
        try
        {
            await using var stream = change.File.OpenReadStream(MostFileBytes, Left);
            using var reader = new StreamReader(stream);
            imported = SheetImport.Of(await reader.ReadToEndAsync(Left));
            if (imported.Circuits is [var first, ..]) TakeImported(first);
        }
        catch (IOException)
        {
            said = "The file cannot be read, or is larger than 4 MB.";
        }
    }

    private void TakeImported(ImportedCircuit circuit)
    {
        sheet = circuit.Sheet;
        if (sheet.Head["siteId"].Length == 0) sheet = sheet with { Head = sheet.Head.With("siteId", Site) };
        (said, mustConfirm, savedCircuit) = (null, false, null);
        WorkOut();
        _ = Change(sheet);
    }

    private Task SaveCsvAsync() => Files.GiveAsync($"design-{sheet.Head["circuitId"]}.csv", DesignWriter.ToCsv([read.Design!]), PageHands.Csv);

    private Task SaveJsonAsync() => Files.GiveAsync(
        $"design-{sheet.Head["circuitId"]}.json", JsonSerializer.Serialize(read.Design, Readable), PageHands.Json);

    private async Task SaveAsync()
    {
        WorkOut();
        if (!read.IsSound || saving) return;
        var design = read.Design!;
        (saving, said) = (true, null);
        try
        {
            var newest = await DesignAsync(design.CircuitId, Left);
            if (!mustConfirm && newest is not null && (recordedMeanwhile || !Same(newest, recorded)))
            {
                mustConfirm = true;
                said = recorded is null || recorded.CircuitId != design.CircuitId
                    ? $"Circuit {design.CircuitId} has a design already: {newest.Name}. Saving makes this one count in its place."
                    : "Somebody changed the recorded design since you opened it. Saving makes yours count in its place.";
                return;
            }

            said = await recorder!.RecordAsync(design, Left);
            if (said is not null) return;
            (recorded, opened, savedCircuit, mustConfirm, recordedMeanwhile) = (design, sheet, design.CircuitId, false, false);
            draft = null;
            await Drafts.DropAsync(Session, Circuit, Site);
            recordedState = await recorder.SeenAsync(design, Left) ?? recordedState;
        }
        catch (FleetLight.Client.FleetLightException failed)
        {
            said = $"{await Session.FailedAsync(failed)} Nothing of the sheet is lost; save again. What was recorded already is not recorded twice.";
        }
        finally
        {
            saving = false;
        }
    }

    private static bool Same(CircuitDesigned one, CircuitDesigned? other) =>
        other is not null && JsonSerializer.Serialize(one, WireJson.Strict) == JsonSerializer.Serialize(other, WireJson.Strict);
}

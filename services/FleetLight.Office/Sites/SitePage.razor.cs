using FleetLight.Client;
using FleetLight.Contracts.Views;
using FleetLight.Office.Dossiers;
using FleetLight.Office.Shell.Live;
using FleetLight.PageParts.SitePages;
using Microsoft.AspNetCore.Components;

namespace FleetLight.Office.Sites;

/// <summary>The page of a site.</summary>
public sealed partial class SitePage : LivePage
{
    private static readonly (string Id, string Title)[] Ways =
    [
        ("built", "As built"), ("ducts", "Ducts"), ("boxes", "Boxes"), ("cables", "Cables"), ("circuits", "Circuits"), ("points", "Open points"),
        ("materials", "Material"), ("crews", "Crews"), ("photos", "Photos"),
    ];

    // Of days that the slider passes over nothing is asked.
    private static readonly TimeSpan Pause = TimeSpan.FromMilliseconds(200);

    private SiteRecord record = new();
    private AsBuiltSite now = new();
    private AsBuiltSite built = new();
    private PastSite? past;
    private JudgingView? judging;
    private IReadOnlyList<DuctRow> ducts = [];
    private IReadOnlyList<CircuitLine>? circuits;
    private DayScale scale = new(DateOnly.MinValue, DateOnly.MinValue, [], TimeZoneInfo.Utc);
    private DateOnly day;
    private DateOnly shown;
    private CancellationTokenSource? asking;
    private bool reading;
    private string? pastTrouble;
    private string? labelsSaid;
    private string? chosenDuct;
    private Whoiswho? who;

    /// <summary>The site.</summary>
    [Parameter]
    public string Id { get; set; } = "";

    /// <inheritdoc/>
    protected override object What => Id;

    [Inject]
    private PageHands Hands { get; set; } = null!;

    private bool IsToday => day >= scale.Last;

    private OpenPointsView? Points => IsPast ? past?.OpenPoints : record.OpenPoints;

    private MaterialsView? Materials => IsPast ? past?.Materials : record.Materials;

    private bool IsPast => shown < scale.Last;

    private string ByDay => IsToday ? "yet" : $"by {DayScale.Say(day)}";

    private string Said => pastTrouble is not null ? "" : reading || shown != day ? "Reading what was built by then …"
        : $"{(IsToday ? "As it is now" : $"At the end of {DayScale.Say(day)}")}: {Count(built.Ducts.Count, "duct")}, {Count(built.Cables.Count, "cable")}, "
            + $"{Count(built.Boxes.Count, "box", "boxes")}, {Count(built.Fittings, "fitting")}.";

    /// <inheritdoc/>
    protected override bool Concerns(ChangeView change) => change.SiteId == Id || (change.Kind == "site" && change.Id == Id);

    /// <inheritdoc/>
    protected override async Task<bool> LoadAsync(CancellationToken cancel)
    {
        var wasToday = scale.Last == DateOnly.MinValue || IsToday;
        record = await SiteRecord.ReadAsync(Session.Client, Id, cancel);
        now = await SiteRecord.BuiltAsync(Session.Client, Id, null, cancel);
        if (!record.Exists && now.Things.Count == 0) return false;
        who ??= await Whoiswho.ReadAsync(Session, cancel);
        scale = DayScale.Of(Happened(), Clock.GetUtcNow(), Zone);
        if (wasToday)
        {
            (day, shown) = (scale.Last, scale.Last);
            Show(now, null, record.Circuits);
        }

        return true;
    }

    /// <inheritdoc/>
    protected override void Dispose(bool disposing)
    {
        asking?.Cancel();
        asking?.Dispose();
        base.Dispose(disposing);
    }

    private IEnumerable<DateTimeOffset> Happened()
    {
        var facts = record.Facts.Count > 0 ? record.Facts.Select(fact => fact.HappenedAt) : (record.View?.Facts ?? []).Select(fact => fact.HappenedAt);
        return record.View?.OpenedAt is { } opened ? facts.Append(opened) : facts;
    }

    private async Task GoToDayAsync(DateOnly wanted)
    {
        day = wanted;
        asking?.Cancel();
        asking?.Dispose();
        var mine = asking = CancellationTokenSource.CreateLinkedTokenSource(Left);
        (reading, pastTrouble) = (true, null);
        try
        {
            if (scale.AsOf(wanted) is not { } asOf) Show(now, null, record.Circuits);
            else
            {
                await Task.Delay(Pause, Clock, mine.Token);
                judging ??= await Session.Client.FindAsync<JudgingView>("v1/judging", mine.Token);
                var then = await SiteRecord.BuiltAsync(Session.Client, Id, asOf, mine.Token);
                var folded = record.FactsAreWhole ? PastSite.Of(Id, record.Facts, judging, DateTimeOffset.Parse(asOf, System.Globalization.CultureInfo.InvariantCulture)) : null;
                Show(then, folded, folded?.Circuits);
            }

            (shown, reading) = (wanted, false);
        }
        catch (OperationCanceledException)
        {
            // Another day is asked for, or the page was left.
        }
        catch (FleetLightException failed)
        {
            (pastTrouble, reading) = (await Session.FailedAsync(failed), false);
        }
    }

    private void Show(AsBuiltSite state, PastSite? then, IReadOnlyList<CircuitLine>? lines)
    {
        (built, past, circuits) = (state, then, lines);
        ducts = DuctRow.Of(built.Ducts, built.Cables);
    }

    private void Choose(string duct) => chosenDuct = chosenDuct == duct ? null : duct;

    private string? Whois(string source) => who?.NameOf(source);

    // The key travels in a header, which a link cannot send: the page fetches the labels and hands them over.
    private async Task LabelsAsync()
    {
        labelsSaid = null;
        try
        {
            await Hands.GiveAsync($"labels-{Id}.pdf", await Session.Client.Planning.LabelsAsync(Id, cancel: Left), PageHands.Pdf);
        }
        catch (FleetLightException failed)
        {
            labelsSaid = await Session.FailedAsync(failed);
        }
    }

    private static string Count(int number, string one, string? many = null) => $"{number} {(number == 1 ? one : many ?? one + "s")}";
}

using FleetLight.Client.Reading;
using FleetLight.Contracts.Views;
using FleetLight.Office.Shell;
using FleetLight.Office.Visits;
using FleetLight.PageParts.Signs;
using Microsoft.AspNetCore.Components;
using MudBlazor;

namespace FleetLight.Office.Alerts;

/// <summary>The alerts that stand.</summary>
public sealed partial class AlertsPage
{
    private const int Step = 40;

    private readonly HashSet<string> chosen = new(StringComparer.Ordinal);
    private IReadOnlyList<AlertView> alerts = [];
    private IReadOnlyList<AlertGroup> groups = [];
    private bool whole;
    private int found;
    private int most = Step;

    [Inject]
    private SiteNames Names { get; set; } = null!;

    [Inject]
    private IDialogService Dialogs { get; set; } = null!;

    [Inject]
    private ISnackbar Messages { get; set; } = null!;

    [SupplyParameterFromQuery(Name = "q")]
    private string? Q { get; set; }

    [SupplyParameterFromQuery(Name = "by")]
    private string? By { get; set; }

    [SupplyParameterFromQuery(Name = "severity")]
    private string? Severity { get; set; }

    [SupplyParameterFromQuery(Name = "age")]
    private string? Age { get; set; }

    [SupplyParameterFromQuery(Name = "seen")]
    private string? Seen { get; set; }

    [SupplyParameterFromQuery(Name = "site")]
    private string? Site { get; set; }

    [SupplyParameterFromQuery(Name = "circuit")]
    private string? Circuit { get; set; }

    [SupplyParameterFromQuery(Name = "rule")]
    private string? Rule { get; set; }

    private AlertGrouping Grouping => By switch { "rule" => AlertGrouping.Rule, "circuit" => AlertGrouping.Circuit, _ => AlertGrouping.Site };

    private bool Filtered => Q is not null || Severity is not null || Age is not null || Seen is not null || Site is not null || Circuit is not null || Rule is not null;

    /// <inheritdoc/>
    protected override object? What => (Severity, Site, Circuit, Rule);

    /// <inheritdoc/>
    protected override bool Concerns(ChangeView change) => change.Kind == "alert" && (Site is null || change.SiteId is null || change.SiteId == Site);

    /// <inheritdoc/>
    protected override async Task OnParametersSetAsync()
    {
        Sort();
        await base.OnParametersSetAsync();
    }

    /// <inheritdoc/>
    protected override async Task<bool> LoadAsync(CancellationToken cancel)
    {
        var filter = new AlertFilter { Severity = Words.Read<AlertSeverity>(Severity), Site = Site, Circuit = Circuit, Rule = Rule };
        (alerts, whole) = await AlertBox.ReadAsync(Session.Client, filter, cancel);
        chosen.IntersectWith(alerts.Select(alert => alert.Id));
        await Names.KnowAsync(alerts.Select(alert => alert.SiteId));
        Sort();
        return true;
    }

    private void Sort()
    {
        var now = Clock.GetUtcNow();
        var age = AlertAge.All.FirstOrDefault(each => each.Word == Age);
        AlertView[] fitting =
        [
            .. alerts.Where(alert => (age is null || age.Holds(alert.RaisedAt, now))
                && Seen switch
                {
                    "new" => alert.Standing == AlertStanding.Raised,
                    "noted" => alert.Standing == AlertStanding.Acknowledged,
                    "unplanned" => alert.VisitId is null,
                    _ => true,
                }
                && (string.IsNullOrWhiteSpace(Q) || Has(alert, Q.Trim()))),
        ];
        found = fitting.Length;
        groups = AlertBox.Group(fitting, Grouping);
    }

    private bool Has(AlertView alert, string text) =>
        new[] { alert.Finding.Reason, alert.Finding.Remedy, alert.Finding.Rule, alert.Note, Names.Of(alert.SiteId), alert.Finding.Subject.Id }
            .Any(each => each?.Contains(text, StringComparison.OrdinalIgnoreCase) == true);

    private string TitleOf(AlertGroup group) => Grouping switch
    {
        AlertGrouping.Site => Names.Of(group.Key),
        AlertGrouping.Rule => Words.Capital(Words.Say(group.Key)),
        _ => group.Key.Length == 0 ? "On no circuit" : group.Key,
    };

    private string? AddressOf(AlertGroup group) => Grouping switch
    {
        AlertGrouping.Site => $"sites/{Uri.EscapeDataString(group.Key)}",
        AlertGrouping.Circuit when group.Key.Length > 0 => $"circuits/{Uri.EscapeDataString(group.Key)}",
        _ => null,
    };

    private IReadOnlyList<AlertView> Picked => [.. alerts.Where(alert => chosen.Contains(alert.Id))];

    private async Task NoteAsync()
    {
        var dialog = await Dialogs.ShowAsync<NoteDialog>("Take note", new DialogParameters<NoteDialog> { { note => note.Alerts, Picked } });
        await AfterAsync(await dialog.Result);
    }

    private async Task PlanAsync()
    {
        var dialog = await Dialogs.ShowAsync<PlanDialog>(
            "Plan a visit", new DialogParameters<PlanDialog> { { plan => plan.Alerts, Picked } });
        await AfterAsync(await dialog.Result);
    }

    private async Task AfterAsync(DialogResult? result)
    {
        if (result is not { Canceled: false, Data: string said }) return;
        chosen.Clear();
        Messages.Add(said, MudBlazor.Severity.Normal);
        await RefreshAsync();
    }

    private void Go(string name, string? value, bool replace) =>
        Addresses.NavigateTo(Addresses.GetUriWithQueryParameter(name, string.IsNullOrWhiteSpace(value) ? null : value), replace: replace);
}

using System.Globalization;
using FleetLight.Contracts.Views;
using FleetLight.Office.Dossiers;
using FleetLight.Office.Shell.Live;
using FleetLight.PageParts.SitePages;
using Microsoft.AspNetCore.Components;

namespace FleetLight.Office.Circuits;

/// <summary>The page of a circuit.</summary>
public sealed partial class CircuitPage : LivePage
{
    private static readonly (string Id, string Title)[] Ways =
    [
        ("judged", "Verdict"), ("schematic", "Drawing"), ("readings", "Expected and measured"), ("causes", "Causes"), ("history", "History"),
        ("budget", "Uncertainty"), ("headroom", "What can be added"), ("tests", "Tests"), ("points", "Open points"), ("photos", "Photos"),
        ("materials", "Material"), ("tale", "What was recorded"),
    ];

    private CircuitRecord? record;
    private string? siteName;
    private Whoiswho? who;

    /// <summary>The circuit.</summary>
    [Parameter]
    public string Id { get; set; } = "";

    /// <summary>The day as of which it is shown, yyyy-MM-dd; now where absent.</summary>
    [SupplyParameterFromQuery(Name = "on")]
    public string? On { get; set; }

    /// <inheritdoc/>
    protected override object What => (Id, AsOf);

    private string? AsOf => DateOnly.TryParseExact(On, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day) && day < Now ? On : null;

    private DateOnly Now => DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(Clock.GetUtcNow(), Zone).DateTime);

    private string Today => Now.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private string Day => AsOf ?? Today;

    private string Here => AsOf is null ? Link.Circuit(Id) : $"{Link.Circuit(Id)}?on={AsOf}";

    /// <inheritdoc/>
    protected override bool Concerns(ChangeView change) =>
        AsOf is null && (change.Id == Id || (record?.View is { } view && (view.CableIds.Contains(change.Id) || view.BoxIds.Contains(change.Id))));

    /// <inheritdoc/>
    protected override async Task<bool> LoadAsync(CancellationToken cancel)
    {
        var asOf = AsOf is { } on ? new DayScale(Now, Now, [], Zone).AsOf(DateOnly.ParseExact(on, "yyyy-MM-dd", CultureInfo.InvariantCulture)) : null;
        record = await CircuitRecord.ReadAsync(Session.Client, Id, asOf, cancel);
        if (record is null) return false;
        who ??= await Whoiswho.ReadAsync(Session, cancel);
        if (record.View.SiteId is { } site) siteName = (await Session.Client.Status.SiteAsync(site, cancel))?.Name;
        return true;
    }

    private string? Whois(string source) => who?.NameOf(source);

    private void GoToDay(ChangeEventArgs change)
    {
        var day = change.Value as string;
        Addresses.NavigateTo(string.IsNullOrEmpty(day) || day == Today ? Link.Circuit(Id) : $"{Link.Circuit(Id)}?on={day}");
    }
}

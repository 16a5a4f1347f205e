using FleetLight.Client.Reading;
using FleetLight.Contracts.Views;
using FleetLight.Office.Shell;
using FleetLight.Office.Shell.Keys;
using FleetLight.PageParts.Signs;
using Microsoft.AspNetCore.Components;

namespace FleetLight.Office.Circuits;

/// <summary>The list of all circuits.</summary>
public sealed partial class CircuitListPage : ComponentBase, IDisposable
{
    // So long after the last letter it is looked for.
    private static readonly TimeSpan Typing = TimeSpan.FromMilliseconds(250);

    private ITimer? typing;
    private long? all;

    [Inject]
    private NavigationManager Addresses { get; set; } = null!;

    [Inject]
    private OfficeSession Session { get; set; } = null!;

    [Inject]
    private SiteNames Names { get; set; } = null!;

    [Inject]
    private TimeProvider Clock { get; set; } = null!;

    [SupplyParameterFromQuery(Name = "q")]
    private string? Q { get; set; }

    [SupplyParameterFromQuery(Name = "site")]
    private string? Site { get; set; }

    [SupplyParameterFromQuery(Name = "phase")]
    private string? Phase { get; set; }

    [SupplyParameterFromQuery(Name = "verdict")]
    private string? Verdict { get; set; }

    [SupplyParameterFromQuery(Name = "rule")]
    private string? Rule { get; set; }

    private (string?, string?, string?, string?, string?) What => (Q, Site, Phase, Verdict, Rule);

    private bool Filtered => What != default;

    /// <inheritdoc/>
    public void Dispose() => typing?.Dispose();

    private async Task<Page<CircuitLine>> ReadAsync(string? cursor, int limit, CancellationToken cancel)
    {
        var filter = new CircuitFilter
        {
            Text = Q,
            Site = Site,
            Phase = Words.Read<CircuitPhase>(Phase),
            Verdict = Words.Read<CircuitVerdict>(Verdict),
            Rule = Rule,
        };
        var page = await Session.Client.Status.CircuitPageAsync(filter, cursor, limit, cancel);
        if (cursor is null && !Filtered) all = (await Session.Client.Status.FleetAsync(cancel)).Circuits;
        _ = NameSitesAsync(page.Items);
        return page;
    }

    // Lines do not wait for the names of their sites.
    private async Task NameSitesAsync(IReadOnlyList<CircuitLine> lines)
    {
        if (await Names.KnowAsync(lines.Select(line => line.SiteId).OfType<string>())) StateHasChanged();
    }

    private void Type(string? text)
    {
        typing?.Dispose();
        typing = Clock.CreateTimer(_ => Go("q", text, replace: true), null, Typing, Timeout.InfiniteTimeSpan);
    }

    private void Choose(string name, string? value) => Go(name, value, replace: false);

    // Letters replace the address, so that one step back leads to what was looked at before; choices are steps of their own.
    private void Go(string name, string? value, bool replace) => Addresses.NavigateTo(
        Addresses.GetUriWithQueryParameter(name, string.IsNullOrWhiteSpace(value) ? null : value.Trim()), replace: replace);
}

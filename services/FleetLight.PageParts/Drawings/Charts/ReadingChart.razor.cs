using System.Globalization;
using FleetLight.Contracts.Calculations;
using FleetLight.PageParts.Wording;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web;
using static FleetLight.PageParts.Drawings.SvgText;

namespace FleetLight.PageParts.Drawings.Charts;

/// <summary>Draws a history of readings.</summary>
public partial class ReadingChart
{
    // Each step shows half the time; a day is the shortest that has a date of its own.
    private const int MostZoom = 8;
    private static readonly TimeSpan Shortest = TimeSpan.FromDays(1);

    private ChartLayout? layout;
    private ElementReference screen;
    private SeriesReading[] all = [];
    private SeriesReading? chosen;
    private int zoom;
    private bool watched;

    /// <summary>What is drawn.</summary>
    [Parameter]
    [EditorRequired]
    public required ReadingSeries Series { get; set; }

    /// <summary>A reading was chosen.</summary>
    [Parameter]
    public EventCallback<SeriesReading> OnReading { get; set; }

    /// <summary>The reading that is chosen was asked for: by Enter.</summary>
    [Parameter]
    public EventCallback<SeriesReading> OnOpen { get; set; }

    private bool CanZoomIn => zoom < MostZoom && all.Length > 1 && Span(zoom + 1) >= Shortest;

    private string Summary =>
        $"{Series.Title}: {all.Length} {(all.Length == 1 ? "reading" : "readings")}{(zoom == 0 ? "" : $", {layout!.Points.Count} of them shown")}. "
        + "Left and right arrow go from reading to reading, plus and minus show a shorter or a longer time"
        + (OnOpen.HasDelegate ? ", Enter opens the one that is chosen." : ".");

    private string Unit => Series.Quantity switch
    {
        MeasuredAs.MegohmsInsulation => "MΩ",
        MeasuredAs.Milliamps => "mA",
        MeasuredAs.LoopOhms => "Ω",
        MeasuredAs.FittingLit => "",
        _ => "V",
    };

    // What was expected is drawn between neighbours that both have it: where it cannot be said there is a gap.
    private IEnumerable<(ChartPoint From, ChartPoint To)> Bands =>
        layout!.Points.Zip(layout.Points.Skip(1)).Where(pair => pair.First.Middle is not null && pair.Second.Middle is not null);

    /// <inheritdoc/>
    protected override void OnParametersSet()
    {
        all = [.. Series.Readings.Where(reading => double.IsFinite(reading.Value)).OrderBy(reading => reading.At)];
        if (chosen is not null && !all.Contains(chosen)) chosen = null;
        OnWidened();
    }

    /// <inheritdoc/>
    protected override void OnWidened() => layout = ChartLayout.Of(zoom == 0 ? Series : Shown(), WidthPixels);

    /// <inheritdoc/>
    protected override async Task OnAfterRenderAsync(bool firstRender)
    {
        await base.OnAfterRenderAsync(firstRender);
        if (watched || layout is null) return;
        watched = true;
        await WatchAsync("keys.js", screen);
    }

    private TimeSpan Span(int steps) => (all[^1].At - all[0].At) / (1 << steps);

    // The time around the reading that is chosen; around the newest where none is.
    private ReadingSeries Shown()
    {
        var middle = (chosen ?? all[^1]).At;
        var half = Span(zoom) / 2;
        return Series with
        {
            Readings = [.. all.Where(reading => (reading.At - middle).Duration() <= half || ReferenceEquals(reading, chosen ?? all[^1]))],
            Events = [.. Series.Events.Where(each => (each.At - middle).Duration() <= half)],
        };
    }

    private void Zoom(int steps)
    {
        if (steps > 0 && !CanZoomIn) return;
        zoom = Math.Max(0, zoom + steps);
        OnWidened();
    }

    private async Task KeyAsync(KeyboardEventArgs pressed)
    {
        if (layout is null) return;
        var last = all.Length - 1;
        var at = chosen is null ? -1 : Array.IndexOf(all, chosen);
        int? next = pressed.Key switch
        {
            "ArrowLeft" => at < 0 ? last : Math.Max(0, at - 1),
            "ArrowRight" => Math.Min(last, at + 1),
            "Home" => 0,
            "End" => last,
            _ => null,
        };
        if (next is { } index) await ChooseAsync(all[index]);
        else if (pressed.Key is "+" or "=") Zoom(1);
        else if (pressed.Key == "-") Zoom(-1);
        else if (pressed.Key == "0") Zoom(-zoom);
        else if (pressed.Key == "Enter" && chosen is not null) await OnOpen.InvokeAsync(chosen);
    }

    private async Task ChooseAsync(SeriesReading reading)
    {
        chosen = reading;
        if (zoom > 0) OnWidened();
        await OnReading.InvokeAsync(reading);
    }

    private static string BandPath(ChartPoint from, ChartPoint to) =>
        $"M{N(from.At.X)} {N(from.High!.Value)} L{N(to.At.X)} {N(to.High!.Value)} L{N(to.At.X)} {N(to.Low!.Value)} L{N(from.At.X)} {N(from.Low!.Value)} Z";

    private string Told(SeriesReading reading) =>
        $"{Time(reading.At)}: {Figures.Of(reading.Value, Series.Quantity)}, {PlainWords.Of(reading.Verdict).ToLowerInvariant()}."
        + (reading.Expected is null ? "" : $" Should have read {Should(reading)}.");

    private string Should(SeriesReading reading) => reading.Expected is not { } expected
        ? "not known"
        : $"{Figures.Of(expected.Value, Series.Quantity)} ({Figures.Of(expected.Low, Series.Quantity)} to {Figures.Of(expected.High, Series.Quantity)})";

    private static string Day(DateTimeOffset at) => at.ToString("d MMM yyyy", CultureInfo.InvariantCulture);

    private static string Time(DateTimeOffset at) => at.ToLocalTime().ToString("d MMM yyyy HH:mm", CultureInfo.InvariantCulture);
}

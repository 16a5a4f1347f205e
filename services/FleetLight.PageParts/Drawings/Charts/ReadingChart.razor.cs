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
    private ChartLayout? layout;
    private int? chosen;

    /// <summary>What is drawn.</summary>
    [Parameter]
    [EditorRequired]
    public required ReadingSeries Series { get; set; }

    /// <summary>A reading was chosen.</summary>
    [Parameter]
    public EventCallback<SeriesReading> OnReading { get; set; }

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
    protected override void OnParametersSet() => OnWidened();

    /// <inheritdoc/>
    protected override void OnWidened() => layout = ChartLayout.Of(Series, WidthPixels);

    private async Task KeyAsync(KeyboardEventArgs pressed)
    {
        if (layout is null) return;
        var last = layout.Points.Count - 1;
        int? next = pressed.Key switch
        {
            "ArrowLeft" => Math.Max(0, (chosen ?? (last + 1)) - 1),
            "ArrowRight" => Math.Min(last, (chosen ?? -1) + 1),
            "Home" => 0,
            "End" => last,
            _ => null,
        };
        if (next is { } index) await ChooseAsync(index);
    }

    private async Task ChooseAsync(int index)
    {
        chosen = index;
        await OnReading.InvokeAsync(layout!.Points[index].Reading);
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

using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.PageParts.Drawings.Charts;
using FleetLight.PageParts.Drawings.Circuits;
using FleetLight.PageParts.Drawings.Intervals;
using FleetLight.PageParts.Drawings.Plans;
using FleetLight.Pages.Tests.Browsing;

namespace FleetLight.Pages.Tests.Drawings;

/// <summary>The drawings by themselves: readable by day and by night, on a phone and on a desk, and told in words as well.</summary>
public sealed class DrawingTests(RunningService service)
{
    [Theory]
    [InlineData(true, false)]
    [InlineData(true, true)]
    [InlineData(false, false)]
    public async Task They_are_sound(bool phone, bool dark)
    {
        await using var window = await Browser.OpenAsync(service.Url, phone ? Screen.Phone : Screen.Desktop, dark);
        double width = phone ? 328 : 1200;
        var page = await Drawn.OpenAsync(
            window,
            await Drawn.MarkupAsync<CircuitDrawing>(new() { ["Parts"] = Samples.Loop, ["Width"] = width }),
            await Drawn.MarkupAsync<CircuitDrawing>(new() { ["Parts"] = Samples.Feed, ["Width"] = width }),
            await Drawn.MarkupAsync<CircuitDrawing>(new() { ["Parts"] = new CircuitParts { Id = "k3" }, ["Width"] = width }),
            await IntervalAsync(51.63, CircuitVerdict.Outside),
            await IntervalAsync(56.5, CircuitVerdict.Within),
            await IntervalAsync(12, CircuitVerdict.Outside),
            await IntervalAsync(null, CircuitVerdict.Unread),
            await Drawn.MarkupAsync<ReadingChart>(new() { ["Series"] = Samples.Series, ["Width"] = width }),
            await Drawn.MarkupAsync<ReadingChart>(new()
            {
                ["Series"] = Samples.Series with { Readings = [Samples.Series.Readings[3]], Events = [], Levels = [] },
                ["Width"] = width
            }),
            await Drawn.MarkupAsync<ReadingChart>(new() { ["Series"] = Samples.Series with { Readings = [] }, ["Width"] = width }),
            await Drawn.MarkupAsync<SitePlan>(new() { ["Things"] = Samples.Site, ["Width"] = width }));

        await page.IsSoundAsync();
        await page.PictureAsync($"drawings-{(phone ? "phone" : "desk")}-{(dark ? "dark" : "light")}");
    }

    [Fact]
    public async Task A_circuit_is_told_as_a_list_too()
    {
        var markup = await Drawn.MarkupAsync<CircuitDrawing>(new() { ["Parts"] = Samples.Loop });

        Assert.Contains("Suspect, 62 %: Fitting f5 is shorted.", markup, StringComparison.Ordinal);
        Assert.Contains("The place to measure next.", markup, StringComparison.Ordinal);
        Assert.Contains("Should read 56.20 V (53.39 to 59.01 V).", markup, StringComparison.Ordinal);
    }

    [Fact]
    public void A_plan_reads_what_it_knows_and_passes_over_what_it_does_not()
    {
        Assert.Equal(10, Samples.Site.Count);
        Assert.Equal(["b2", "c1"], Samples.Site.Where(thing => thing.Positions.Count == 0).Select(thing => thing.Id));
        var duct = Samples.Site.Single(thing => thing.Id == "d1");
        Assert.Equal(
            "Lighting, extra-low voltage, recorded as orange, 40 mm bore, 48.5 m long, 22 % filled, 2 cables, a string inside", duct.Says);
        Assert.Equal(CircuitVerdict.Outside, Samples.Site.Single(thing => thing.Id == "f1").Verdict);
        Assert.Equal(CircuitVerdict.Within, Samples.Site.Single(thing => thing.Id == "f2").Verdict);
    }

    private static Task<string> IntervalAsync(double? measured, CircuitVerdict verdict) => Drawn.MarkupAsync<IntervalBar>(new()
    {
        ["Expected"] = Samples.Value(56.2, 2.1),
        ["Measured"] = measured,
        ["Verdict"] = verdict,
        ["Quantity"] = ReadingQuantity.VoltsDc,
    });
}

using FleetLight.Contracts.Views;
using FleetLight.PageParts.Drawings;
using FleetLight.PageParts.Drawings.Charts;
using FleetLight.PageParts.Drawings.Intervals;
using FleetLight.PageParts.Drawings.Plans;

namespace FleetLight.Pages.Tests.Drawings;

/// <summary>Where figures and positions come to stand.</summary>
public sealed class GeometryTests
{
    // Lengths of a degree on WGS 84 as tabulated by the US National Geospatial-Intelligence Agency's calculator for latitude 45:
    // 111,131.75 m of latitude (meridian radius 6,367,381.8 m) and 78,846.8 m of longitude.
    [Fact]
    public void A_degree_is_as_long_as_the_ellipsoid_says()
    {
        var projection = new LocalProjection(10, 45);

        Assert.Equal(78_846.8, projection.Of(11, 45).East, 0.1);
        Assert.Equal(111_131.75, projection.Of(10, 46).North, 0.1);
    }

    [Fact]
    public void What_is_under_a_finger_stays_there_as_the_plan_grows()
    {
        var view = PlanView.Fitting([new(0, 0), new(50, 30)], 400, 300);
        var finger = new Point(120, 80);
        var under = view.At(finger);

        var larger = view.Zoomed(2.5, finger);

        Assert.Equal(finger.X, larger.Of(under).X, 6);
        Assert.Equal(finger.Y, larger.Of(under).Y, 6);
        Assert.Equal(view.PixelsPerMetre * 2.5, larger.PixelsPerMetre, 9);
        Assert.Equal(finger.X + 30, view.Moved(30, -10).Of(under).X, 6);
        Assert.Equal(finger.Y - 10, view.Moved(30, -10).Of(under).Y, 6);
    }

    [Theory]
    [InlineData(4, 100, 20)]
    [InlineData(0.3, 100, 200)]
    [InlineData(40, 100, 2)]
    public void The_scale_is_a_round_length(double pixelsPerMetre, double most, double metres) =>
        Assert.Equal(metres, new PlanView(default, pixelsPerMetre, 400, 300).ScaleMetres(most), 9);

    [Fact]
    public void Labels_keep_clear_of_one_another_and_of_the_edge()
    {
        var chance = new Random(7);
        var wanted = Enumerable.Range(0, 120).Select(index => (new Point(chance.Next(400), chance.Next(300)), $"Thing {index}")).ToList();
        var screen = new Box(0, 0, 400, 300);

        var placed = LabelPlacing.Place(wanted, wanted.Take(10).Select(each => new Box(each.Item1.X - 8, each.Item1.Y - 8, 16, 16)), screen);

        Assert.InRange(placed.Count, 20, 119);
        for (var i = 0; i < placed.Count; i++)
        {
            Assert.True(screen.Holds(placed[i].Box));
            for (var j = 0; j < i; j++) Assert.False(placed[i].Box.Overlaps(placed[j].Box));
        }
    }

    [Theory]
    [InlineData(10.0, 0.5, 0)]
    [InlineData(10.4, null, 0)]
    [InlineData(19.0, 1.0, 1)]
    [InlineData(-5.0, 0.0, -1)]
    public void A_reading_stands_on_the_line_or_at_its_end(double measured, double? at, int beyond)
    {
        var scale = IntervalScale.Of(Samples.Value(10, 1), measured);

        Assert.Equal(beyond, scale.Beyond);
        if (at is { } known) Assert.Equal(known, scale.Measured!.Value, 6);
        Assert.Equal(0.5, scale.Expected, 6);
        Assert.InRange(scale.Low, 0, 0.5);
    }

    [Fact]
    public void A_chart_holds_every_reading_level_and_event()
    {
        var chart = ChartLayout.Of(Samples.Series, 360)!;

        Assert.Equal(22, chart.Points.Count);
        Assert.All(chart.Points, point => Assert.InRange(point.At.X, ChartLayout.Left, chart.InnerRight));
        Assert.All(chart.Points, point => Assert.InRange(point.At.Y, ChartLayout.Top, chart.InnerBottom));
        Assert.All(chart.Levels, level => Assert.InRange(level.Y, ChartLayout.Top, chart.InnerBottom));
        Assert.Equal([1, 2], chart.Events.Select(each => each.Number));
        Assert.InRange(chart.Dates.Count, 2, 5);
        Assert.True(chart.Figures.Count >= 3);
    }

    [Fact]
    public void A_chart_of_one_reading_has_width_and_of_none_is_no_chart()
    {
        var one = ChartLayout.Of(Samples.Series with { Readings = [Samples.Series.Readings[0]], Events = [], Levels = [] }, 360)!;

        Assert.InRange(one.Points[0].At.X, ChartLayout.Left + 50, one.InnerRight - 50);
        Assert.Null(ChartLayout.Of(Samples.Series with { Readings = [] }, 360));
        Assert.NotNull(ChartLayout.Of(Samples.Series with { Readings = [new(DateTimeOffset.UnixEpoch, 0, CircuitVerdict.Within)], Events = [], Levels = [] }, 360));
    }
}

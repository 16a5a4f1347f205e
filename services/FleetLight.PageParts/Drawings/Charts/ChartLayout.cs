using System.Globalization;

namespace FleetLight.PageParts.Drawings.Charts;

/// <summary>A line across the chart with its word at the edge.</summary>
/// <param name="At">Where, CSS pixels.</param>
/// <param name="Text">What stands there.</param>
public sealed record ChartTick(double At, string Text);

/// <summary>A reading as drawn.</summary>
/// <param name="Reading">The reading.</param>
/// <param name="At">Where.</param>
/// <param name="Low">Lower end of what was expected, CSS pixels from the top; none where that cannot be said.</param>
/// <param name="High">Upper end of what was expected, likewise.</param>
/// <param name="Middle">What was expected, likewise.</param>
public sealed record ChartPoint(SeriesReading Reading, Point At, double? Low, double? High, double? Middle);

/// <summary>A level as drawn.</summary>
/// <param name="Level">The level.</param>
/// <param name="Y">Where, CSS pixels from the top.</param>
public sealed record ChartLevel(SeriesLevel Level, double Y);

/// <summary>An event as drawn.</summary>
/// <param name="Event">The event.</param>
/// <param name="Number">Its number in the order of time, from 1: the words stand below the chart.</param>
/// <param name="X">Where, CSS pixels from the left.</param>
public sealed record ChartEvent(SeriesEvent Event, int Number, double X);

/// <summary>A history of readings laid out on the screen.</summary>
public sealed record ChartLayout
{
    /// <summary>Width of the numbers left of the chart, CSS pixels.</summary>
    public const double Left = 54;

    /// <summary>Room above for the events' numbers, CSS pixels.</summary>
    public const double Top = 26;

    private const double Right = 14;
    private const double Bottom = 26;
    private const double LeastWidth = 240;
    private const double TickWidth = 84;
    private const double TickHeight = 32;

    // Days between dates on the axis.
    private static readonly int[] Steps = [1, 2, 7, 14, 30, 61, 91, 182, 365, 730, 1826, 3652];

    /// <summary>Width of the whole, CSS pixels.</summary>
    public required double Width { get; init; }

    /// <summary>Height of the whole, CSS pixels.</summary>
    public required double Height { get; init; }

    /// <summary>The readings, oldest first.</summary>
    public required IReadOnlyList<ChartPoint> Points { get; init; }

    /// <summary>The levels.</summary>
    public required IReadOnlyList<ChartLevel> Levels { get; init; }

    /// <summary>The events, oldest first.</summary>
    public required IReadOnlyList<ChartEvent> Events { get; init; }

    /// <summary>The figures at the left.</summary>
    public required IReadOnlyList<ChartTick> Figures { get; init; }

    /// <summary>The dates below.</summary>
    public required IReadOnlyList<ChartTick> Dates { get; init; }

    /// <summary>Right edge of what is drawn, CSS pixels.</summary>
    public double InnerRight => Width - Right;

    /// <summary>Lower edge of what is drawn, CSS pixels.</summary>
    public double InnerBottom => Height - Bottom;

    /// <summary>Lays a series out; none where there is no reading.</summary>
    public static ChartLayout? Of(ReadingSeries series, double widthPixels)
    {
        ArgumentNullException.ThrowIfNull(series);
        var readings = series.Readings.Where(reading => double.IsFinite(reading.Value)).OrderBy(reading => reading.At).ToList();
        if (readings.Count == 0) return null;
        var width = Math.Max(LeastWidth, widthPixels);
        var height = Math.Clamp(width * 0.55, 220, 420);
        var (from, to) = Times(readings, series.Events);
        var (low, high) = Range(readings, series.Levels);
        return new ChartLayout
        {
            Width = width,
            Height = height,
            Points =
            [
                .. readings.Select(reading => new ChartPoint(
                    reading, new Point(X(reading.At), Y(reading.Value)), YOf(reading.Expected?.Low), YOf(reading.Expected?.High), YOf(reading.Expected?.Value))),
            ],
            Levels = [.. series.Levels.Select(level => new ChartLevel(level, Y(level.Value)))],
            Events = [.. series.Events.OrderBy(each => each.At).Select((each, index) => new ChartEvent(each, index + 1, X(each.At)))],
            Figures = [.. FigureTicks(low, high, (int)((height - Top - Bottom) / TickHeight)).Select(figure => new ChartTick(Y(figure.Value), figure.Text))],
            Dates =
            [
                .. DateTicks(from, to, (int)((width - Left - Right) / TickWidth))
                    .Select(date => new ChartTick(X(date), date.ToString("d MMM yy", CultureInfo.InvariantCulture))),
            ],
        };

        double X(DateTimeOffset at) => Left + ((at - from) / (to - from) * (width - Left - Right));
        double Y(double value) => height - Bottom - ((value - low) / (high - low) * (height - Top - Bottom));
        double? YOf(double? value) => value is { } known ? Math.Clamp(Y(known), Top, height - Bottom) : null;
    }

    private static (DateTimeOffset From, DateTimeOffset To) Times(List<SeriesReading> readings, IReadOnlyList<SeriesEvent> events)
    {
        var times = readings.Select(reading => reading.At).Concat(events.Select(each => each.At)).ToList();
        var (from, to) = (times.Min(), times.Max());
        // A single day would have no width; readings at the very edge would be cut.
        var edge = TimeSpan.FromTicks(Math.Max((to - from).Ticks / 25, TimeSpan.TicksPerDay / 2));
        return (from - edge, to + edge);
    }

    private static (double Low, double High) Range(List<SeriesReading> readings, IReadOnlyList<SeriesLevel> levels)
    {
        var values = readings.Select(reading => reading.Value)
            .Concat(readings.Where(reading => reading.Expected is not null).SelectMany(reading => (double[])[reading.Expected!.Low, reading.Expected.High]))
            .Concat(levels.Select(level => level.Value)).Where(double.IsFinite).ToList();
        var (low, high) = (values.Min(), values.Max());
        var edge = Math.Max((high - low) * 0.08, Math.Max(Math.Abs(high) * 1e-3, 1e-6));
        return (low - edge, high + edge);
    }

    private static IEnumerable<(double Value, string Text)> FigureTicks(double low, double high, int most)
    {
        var rough = (high - low) / Math.Max(2, most);
        var power = Math.Pow(10, Math.Floor(Math.Log10(rough)));
        var step = ((double[])[1, 2, 5, 10]).Select(factor => factor * power).First(each => each >= rough * 0.999);
        var places = Math.Clamp((int)Math.Ceiling(-Math.Log10(step) - 1e-9), 0, 6);
        for (var index = Math.Ceiling(low / step); index * step <= high; index++) yield return (index * step, Wording.Figures.Plain(index * step, places));
    }

    private static IEnumerable<DateTimeOffset> DateTicks(DateTimeOffset from, DateTimeOffset to, int most)
    {
        var days = (to - from).TotalDays / Math.Max(1, most);
        var step = Array.Find(Steps, each => each >= days) is var found and > 0 ? found : Steps[^1];
        for (var at = new DateTimeOffset(from.Date.AddDays(1), from.Offset); at < to; at = at.AddDays(step)) yield return at;
    }
}

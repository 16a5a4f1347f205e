namespace FleetLight.Record.Positions;

/// <summary>How a quantity that was measured changes with the coordinates of a point.</summary>
/// <param name="Point">The point, by its number.</param>
/// <param name="X">Change with its X, no unit.</param>
/// <param name="Y">Change with its Y, no unit.</param>
internal readonly record struct Partial(int Point, double X, double Y);

/// <summary>A measured quantity of points in a plane.</summary>
/// <param name="Measured">What was measured, m.</param>
/// <param name="DeviationMetres">Its standard deviation, m.</param>
internal abstract record Observation(double Measured, double DeviationMetres)
{
    /// <summary>What it would be with the points there, m, and how it changes with them.</summary>
    public abstract double At(IReadOnlyList<PlanePoint> points, List<Partial> partials);
}

/// <summary>A coordinate of a point is known by itself.</summary>
internal sealed record CoordinateObservation(int Point, bool IsX, double Measured, double DeviationMetres) : Observation(Measured, DeviationMetres)
{
    /// <inheritdoc/>
    public override double At(IReadOnlyList<PlanePoint> points, List<Partial> partials)
    {
        partials.Add(IsX ? new(Point, 1, 0) : new(Point, 0, 1));
        return IsX ? points[Point].X : points[Point].Y;
    }
}

/// <summary>A level distance between two points.</summary>
internal sealed record TapeObservation(int Point, int From, double Measured, double DeviationMetres) : Observation(Measured, DeviationMetres)
{
    // Closer than this two points have no direction to one another.
    private const double Least = 1e-9;

    /// <inheritdoc/>
    public override double At(IReadOnlyList<PlanePoint> points, List<Partial> partials)
    {
        var (point, from) = (points[Point], points[From]);
        var distance = from.To(point);
        var (x, y) = distance < Least ? (1.0, 0.0) : ((point.X - from.X) / distance, (point.Y - from.Y) / distance);
        partials.Add(new(Point, x, y));
        partials.Add(new(From, -x, -y));
        return distance;
    }
}

/// <summary>The distance along a baseline, or square from it to the left.</summary>
internal sealed record OffsetObservation(int Point, int From, int To, bool IsAlong, double Measured, double DeviationMetres)
    : Observation(Measured, DeviationMetres)
{
    /// <inheritdoc/>
    public override double At(IReadOnlyList<PlanePoint> points, List<Partial> partials)
    {
        var (point, from, to) = (points[Point], points[From], points[To]);
        var length = Math.Max(from.To(to), 1e-9);
        var (ux, uy) = ((to.X - from.X) / length, (to.Y - from.Y) / length);
        var (rx, ry) = (point.X - from.X, point.Y - from.Y);
        var along = (rx * ux) + (ry * uy);
        var square = (ry * ux) - (rx * uy);
        // Where the far end moves square from the baseline, the baseline turns: along changes by square/length, square by −along/length.
        var (ax, ay, turn) = IsAlong ? (ux, uy, square / length) : (-uy, ux, -along / length);
        partials.Add(new(Point, ax, ay));
        partials.Add(new(To, -uy * turn, ux * turn));
        partials.Add(new(From, -ax + (uy * turn), -ay - (ux * turn)));
        return IsAlong ? along : square;
    }
}

namespace FleetLight.Record.Positions;

/// <summary>
/// Adjusts points in a plane together, by least squares: Gauss-Newton, damped where a step leads away (Levenberg, Marquardt). The
/// covariance is that of the measurements as stated, not scaled by how they fit.
/// </summary>
internal static class NetworkFit
{
    private const int MostSteps = 60;
    private const double StillMetres = 1e-8;

    /// <summary>The adjusted points with their covariance (X before Y, point by point), m², and chi-square; none where they are left open.</summary>
    public static (PlanePoint[] Points, double[,] Covariance, double ChiSquare)? Of(IReadOnlyList<PlanePoint> start, IReadOnlyList<Observation> measured)
    {
        PlanePoint[] points = [.. start];
        var damping = 0.0;
        var (normal, right, square) = Normal(points, measured);
        for (var step = 0; step < MostSteps; step++)
        {
            if (Dense.Solve(Damped(normal, damping), right) is not { } move)
            {
                if (damping > 1e6) return null;
                damping = Math.Max(1e-6, damping * 10);
                continue;
            }

            PlanePoint[] moved = [.. points.Select((point, i) => new PlanePoint(point.X + move[2 * i], point.Y + move[(2 * i) + 1]))];
            var next = Normal(moved, measured);
            if (next.Square > square + 1e-9)
            {
                if (damping > 1e9) break;
                damping = Math.Max(1e-3, damping * 10);
                continue;
            }

            points = moved;
            (normal, right, square) = next;
            damping = damping < 1e-9 ? 0 : damping / 10;
            if (move.Max(Math.Abs) < StillMetres) break;
        }

        return Dense.Inverse(normal) is { } covariance ? (points, covariance, square) : null;
    }

    private static double[,] Damped(double[,] normal, double damping)
    {
        if (damping == 0) return normal;
        var damped = (double[,])normal.Clone();
        for (var i = 0; i < damped.GetLength(0); i++) damped[i, i] *= 1 + damping;
        return damped;
    }

    private static (double[,] Normal, double[] Right, double Square) Normal(PlanePoint[] points, IReadOnlyList<Observation> measured)
    {
        var n = 2 * points.Length;
        var (normal, right, square) = (new double[n, n], new double[n], 0.0);
        var partials = new List<Partial>(3);
        var slopes = new List<(int At, double Slope)>(6);
        foreach (var one in measured)
        {
            partials.Clear();
            slopes.Clear();
            var misfit = one.Measured - one.At(points, partials);
            var weight = 1 / (one.DeviationMetres * one.DeviationMetres);
            square += weight * misfit * misfit;
            foreach (var (at, x, y) in partials)
            {
                slopes.Add((2 * at, x));
                slopes.Add(((2 * at) + 1, y));
            }

            foreach (var (a, left) in slopes)
            {
                right[a] += weight * left * misfit;
                foreach (var (b, other) in slopes) normal[a, b] += weight * left * other;
            }
        }

        return (normal, right, square);
    }
}

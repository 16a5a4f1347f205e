namespace FleetLight.Record.Positions;

/// <summary>What fixes one point in a plane: measurements from reference points with their weights, worked out at a place.</summary>
/// <remarks>
/// Generalised least squares: the covariance of the measurements is Σ = D + B C Bᵀ, with D their own variances, C the covariance of the
/// reference points and B the partial derivatives with respect to these. The normal matrix is N = Aᵀ Σ⁻¹ A, the covariance of the point N⁻¹,
/// a priori: it is not scaled by the residuals. Point 0 is the one looked for.
/// </remarks>
internal sealed class PlaneFit
{
    private const int MostSteps = 50;
    private const double StillMetres = 1e-9;

    private readonly double[,] weights;
    private readonly double[,] slopes;
    private readonly double[,] others;
    private readonly double[,] normal;

    private PlaneFit(
        PlanePoint point, double[] misfits, double[,] weights, double[,] slopes, double[,] others, double[,] normal, double[,] inverse)
    {
        (Point, Misfits, this.weights, this.slopes, this.others, this.normal) = (point, misfits, weights, slopes, others, normal);
        Spread = new(inverse[0, 0], inverse[0, 1], inverse[1, 1]);
        for (var i = 0; i < misfits.Length; i++)
            for (var j = 0; j < misfits.Length; j++) ChiSquare += misfits[i] * weights[i, j] * misfits[j];
    }

    /// <summary>Where the point is.</summary>
    public PlanePoint Point { get; }

    /// <summary>Measured less what it would be here, m.</summary>
    public double[] Misfits { get; }

    /// <summary>Covariance of the point, m².</summary>
    public PlaneSpread Spread { get; }

    /// <summary>Weighted sum of the squares of the misfits, no unit.</summary>
    public double ChiSquare { get; }

    /// <summary>Gauss-Newton from a place near by; none where the measurements leave the point open.</summary>
    public static PlaneFit? From(PlanePoint start, IReadOnlyList<Observation> measured, IReadOnlyList<PlanePoint> references, double[,]? covariance)
    {
        var fit = At(start, measured, references, covariance);
        for (var step = 0; fit is not null && step < MostSteps; step++)
        {
            if (fit.Move() is not var (x, y) || Math.Abs(x) + Math.Abs(y) < StillMetres) break;
            PlaneFit? next = null;
            // Halved until it is nearer: far from the place the line is not the curve.
            for (var share = 1.0; share > 1e-4; share /= 2)
            {
                next = At(new(fit.Point.X + (share * x), fit.Point.Y + (share * y)), measured, references, covariance);
                if (next is not null && Square(next.Misfits, fit.weights) <= fit.ChiSquare) break;
                next = null;
            }

            if (next is null) break;
            fit = next;
        }

        return fit;
    }

    /// <summary>The measurements seen from a place; none where they leave the point open there.</summary>
    public static PlaneFit? At(PlanePoint point, IReadOnlyList<Observation> measured, IReadOnlyList<PlanePoint> references, double[,]? covariance)
    {
        var n = measured.Count;
        PlanePoint[] points = [point, .. references];
        var (misfits, slopes, others) = (new double[n], new double[n, 2], new double[n, 2 * references.Count]);
        var partials = new List<Partial>(3);
        for (var i = 0; i < n; i++)
        {
            partials.Clear();
            misfits[i] = measured[i].Measured - measured[i].At(points, partials);
            foreach (var (at, x, y) in partials)
            {
                if (at == 0) (slopes[i, 0], slopes[i, 1]) = (slopes[i, 0] + x, slopes[i, 1] + y);
                else
                {
                    others[i, (2 * at) - 2] += x;
                    others[i, (2 * at) - 1] += y;
                }
            }
        }

        var sigma = Sigma(measured, others, covariance);
        if (Dense.Inverse(sigma) is not { } weights) return null;
        var normal = new double[2, 2];
        for (var a = 0; a < 2; a++)
            for (var b = 0; b < 2; b++)
                for (var i = 0; i < n; i++)
                    for (var j = 0; j < n; j++) normal[a, b] += slopes[i, a] * weights[i, j] * slopes[j, b];
        normal[1, 0] = normal[0, 1];
        return Dense.Inverse(normal) is { } inverse ? new(point, misfits, weights, slopes, others, normal, inverse) : null;
    }

    /// <summary>
    /// Each misfit in standard deviations of its own (Baarda's w), no unit: Σ⁻¹v over the root of the diagonal of Σ⁻¹ − Σ⁻¹A N⁻¹ Aᵀ Σ⁻¹; 0
    /// where nothing controls the measurement.
    /// </summary>
    public double[] Standardised()
    {
        var n = Misfits.Length;
        var pulled = new double[n, 2];
        for (var i = 0; i < n; i++)
            for (var a = 0; a < 2; a++)
                for (var j = 0; j < n; j++) pulled[i, a] += weights[i, j] * slopes[j, a];
        var deviations = new double[n];
        for (var i = 0; i < n; i++)
        {
            double weighted = 0;
            for (var j = 0; j < n; j++) weighted += weights[i, j] * Misfits[j];
            var (x, y) = (pulled[i, 0], pulled[i, 1]);
            var controlled = weights[i, i] - ((x * x * Spread.XX) + (2 * x * y * Spread.XY) + (y * y * Spread.YY));
            deviations[i] = controlled > 1e-9 * weights[i, i] ? weighted / Math.Sqrt(controlled) : 0;
        }

        return deviations;
    }

    /// <summary>How the point follows its reference points when these move (X before Y, point by point): −N⁻¹ Aᵀ Σ⁻¹ B, no unit.</summary>
    public double[,] Following()
    {
        var (n, m) = (Misfits.Length, others.GetLength(1));
        var following = new double[2, m];
        for (var k = 0; k < m; k++)
        {
            double x = 0, y = 0;
            for (var i = 0; i < n; i++)
            {
                for (var j = 0; j < n; j++)
                {
                    x -= slopes[i, 0] * weights[i, j] * others[j, k];
                    y -= slopes[i, 1] * weights[i, j] * others[j, k];
                }
            }

            following[0, k] = (Spread.XX * x) + (Spread.XY * y);
            following[1, k] = (Spread.XY * x) + (Spread.YY * y);
        }

        return following;
    }

    private (double X, double Y)? Move()
    {
        var right = new double[2];
        for (var a = 0; a < 2; a++)
            for (var i = 0; i < Misfits.Length; i++)
                for (var j = 0; j < Misfits.Length; j++) right[a] += slopes[i, a] * weights[i, j] * Misfits[j];
        return Dense.Solve(normal, right) is { } move ? (move[0], move[1]) : null;
    }

    private static double Square(double[] misfits, double[,] weights)
    {
        double sum = 0;
        for (var i = 0; i < misfits.Length; i++)
            for (var j = 0; j < misfits.Length; j++) sum += misfits[i] * weights[i, j] * misfits[j];
        return sum;
    }

    private static double[,] Sigma(IReadOnlyList<Observation> measured, double[,] others, double[,]? covariance)
    {
        var (n, m) = (measured.Count, others.GetLength(1));
        var sigma = new double[n, n];
        for (var i = 0; i < n; i++) sigma[i, i] = measured[i].DeviationMetres * measured[i].DeviationMetres;
        if (covariance is null) return sigma;
        var carried = new double[n, m];
        for (var i = 0; i < n; i++)
            for (var k = 0; k < m; k++)
                for (var l = 0; l < m; l++) carried[i, k] += others[i, l] * covariance[l, k];
        for (var i = 0; i < n; i++)
            for (var j = 0; j < n; j++)
                for (var k = 0; k < m; k++) sigma[i, j] += carried[i, k] * others[j, k];
        return sigma;
    }
}

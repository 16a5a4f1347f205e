namespace FleetLight.Electrics;

/// <summary>
/// Weighted least squares with few unknowns, some of which are known beforehand to be about 0 with standard deviation 1
/// (a season, a meter's gain): those are estimated as far as the values show them, and no further.
/// </summary>
internal sealed class DriftFit
{
    private readonly double[][] columns;
    private readonly double[,] lower;
    private readonly double[] variances;

    private DriftFit(double[][] columns, double[,] lower, double[] variances, double[] beta, double[] residuals)
    {
        this.columns = columns;
        this.lower = lower;
        this.variances = variances;
        Beta = beta;
        Residuals = residuals;
    }

    /// <summary>The unknowns, in the order of the columns.</summary>
    public double[] Beta { get; }

    /// <summary>What the fit leaves of each value.</summary>
    public double[] Residuals { get; }

    /// <summary>Degrees of freedom that the values have left.</summary>
    public double Freedom { get; private set; }

    /// <summary>Sum of squares of the residuals over their variances, and of what was known beforehand.</summary>
    public double Squares { get; private set; }

    /// <summary>Fits.</summary>
    /// <param name="columns">One column for each unknown.</param>
    /// <param name="known">How many of the columns, the first ones, are known beforehand as N(0, 1).</param>
    /// <param name="values">The values.</param>
    /// <param name="variances">Variance of each; infinite for one that does not count.</param>
    public static DriftFit Of(double[][] columns, int known, double[] values, double[] variances)
    {
        var p = columns.Length;
        var normal = new double[p, p];
        var right = new double[p];
        for (var a = 0; a < p; a++)
        {
            for (var b = 0; b <= a; b++) normal[a, b] = Dot(columns[a], columns[b], variances);
            if (a < known) normal[a, a] += 1;
            right[a] = Dot(columns[a], values, variances);
        }

        Factor(normal, p);
        var beta = (double[])right.Clone();
        Solve(normal, beta);
        var residuals = (double[])values.Clone();
        double squares = 0, freedom = 0;
        for (var a = 0; a < p; a++)
        {
            for (var i = 0; i < values.Length; i++) residuals[i] -= columns[a][i] * beta[a];
            if (a < known) squares += beta[a] * beta[a];
        }

        for (var i = 0; i < values.Length; i++)
        {
            if (double.IsPositiveInfinity(variances[i])) continue;
            squares += residuals[i] * residuals[i] / variances[i];
            freedom++;
        }

        var fit = new DriftFit(columns, normal, variances, beta, residuals);
        for (var a = 0; a < p; a++) freedom -= a < known ? 1 - fit.Covariance(a, a) : 1;
        (fit.Squares, fit.Freedom) = (squares, freedom);
        return fit;
    }

    /// <summary>Covariance of two unknowns.</summary>
    public double Covariance(int a, int b)
    {
        var unit = new double[columns.Length];
        unit[a] = 1;
        Solve(lower, unit);
        return unit[b];
    }

    /// <summary>Variance of a sum of unknowns, each times its factor.</summary>
    public double VarianceOf(double[] factors)
    {
        var solved = (double[])factors.Clone();
        Solve(lower, solved);
        double sum = 0;
        for (var a = 0; a < factors.Length; a++) sum += factors[a] * solved[a];
        return Math.Max(0, sum);
    }

    /// <summary>
    /// What one more column, of which nothing is known beforehand, would come to: its unknown, and the information on it
    /// (the inverse of its variance; 0 where the fit has it already).
    /// </summary>
    public (double Beta, double Information) WithOneMore(double[] column)
    {
        var shared = new double[columns.Length];
        for (var a = 0; a < shared.Length; a++) shared[a] = Dot(columns[a], column, variances);
        var solved = (double[])shared.Clone();
        Solve(lower, solved);
        var own = Dot(column, column, variances);
        var information = own;
        for (var a = 0; a < shared.Length; a++) information -= shared[a] * solved[a];
        return information <= 1e-9 * own ? (0, 0) : (Dot(column, Residuals, variances) / information, information);
    }

    private static double Dot(double[] one, double[] other, double[] variances)
    {
        double sum = 0;
        for (var i = 0; i < one.Length; i++) sum += one[i] * other[i] / variances[i];
        return sum;
    }

    // Cholesky in place. An unknown that the values do not show (a column of zeros, or one that repeats others) is held
    // at 0 by a pivot too large to move it.
    private static void Factor(double[,] a, int p)
    {
        for (var j = 0; j < p; j++)
        {
            var scale = a[j, j];
            for (var k = 0; k < j; k++) a[j, j] -= a[j, k] * a[j, k];
            a[j, j] = a[j, j] > 1e-10 * scale && a[j, j] > 0 ? Math.Sqrt(a[j, j]) : 1e150;
            for (var i = j + 1; i < p; i++)
            {
                for (var k = 0; k < j; k++) a[i, j] -= a[i, k] * a[j, k];
                a[i, j] /= a[j, j];
            }
        }
    }

    private static void Solve(double[,] lower, double[] x)
    {
        for (var i = 0; i < x.Length; i++)
        {
            for (var k = 0; k < i; k++) x[i] -= lower[i, k] * x[k];
            x[i] /= lower[i, i];
        }

        for (var i = x.Length - 1; i >= 0; i--)
        {
            for (var k = i + 1; k < x.Length; k++) x[i] -= lower[k, i] * x[k];
            x[i] /= lower[i, i];
        }
    }
}

namespace FleetLight.Electrics;

/// <summary>
/// Factor L of a small covariance matrix C = L·Lᵀ, lower triangle row by row, and what it is good for.
/// </summary>
internal static class Cholesky
{
    /// <summary>Factors in place; false where the matrix is not positive.</summary>
    public static bool Factor(Span<double> matrix, int count, out double logDeterminant)
    {
        logDeterminant = 0;
        for (var i = 0; i < count; i++)
        {
            for (var j = 0; j <= i; j++)
            {
                var sum = matrix[(i * count) + j];
                for (var k = 0; k < j; k++) sum -= matrix[(i * count) + k] * matrix[(j * count) + k];
                if (i != j)
                {
                    matrix[(i * count) + j] = sum / matrix[(j * count) + j];
                    continue;
                }

                if (!(sum > 0) || !double.IsFinite(sum)) return false;
                matrix[(i * count) + i] = Math.Sqrt(sum);
                logDeterminant += Math.Log(sum);
            }
        }

        return true;
    }

    /// <summary>Solves L·y = x in place and returns yᵀy.</summary>
    public static double Whiten(ReadOnlySpan<double> factor, Span<double> x, int count)
    {
        double squares = 0;
        for (var i = 0; i < count; i++)
        {
            var value = x[i];
            for (var k = 0; k < i; k++) value -= factor[(i * count) + k] * x[k];
            x[i] = value / factor[(i * count) + i];
            squares += x[i] * x[i];
        }

        return squares;
    }

    /// <summary>Solves Lᵀ·x = y in place.</summary>
    public static void SolveTransposed(ReadOnlySpan<double> factor, Span<double> y, int count)
    {
        for (var i = count - 1; i >= 0; i--)
        {
            var value = y[i];
            for (var k = i + 1; k < count; k++) value -= factor[(k * count) + i] * y[k];
            y[i] = value / factor[(i * count) + i];
        }
    }

    /// <summary>The variance of one row.</summary>
    public static double Variance(ReadOnlySpan<double> factor, int row, int count)
    {
        double sum = 0;
        for (var k = 0; k <= row; k++) sum += factor[(row * count) + k] * factor[(row * count) + k];
        return sum;
    }
}

namespace FleetLight.Record.Positions;

/// <summary>Small dense symmetric matrices.</summary>
internal static class Dense
{
    /// <summary>The inverse of a symmetric positive definite matrix by Cholesky's method; none where it is not positive definite.</summary>
    public static double[,]? Inverse(double[,] matrix)
    {
        var n = matrix.GetLength(0);
        if (Cholesky(matrix) is not { } lower) return null;
        var inverse = new double[n, n];
        var column = new double[n];
        for (var k = 0; k < n; k++)
        {
            Array.Clear(column);
            column[k] = 1;
            Substitute(lower, column);
            for (var i = 0; i < n; i++) inverse[i, k] = column[i];
        }

        return inverse;
    }

    /// <summary>Solves for a right side; none where the matrix is not positive definite.</summary>
    public static double[]? Solve(double[,] matrix, double[] right)
    {
        if (Cholesky(matrix) is not { } lower) return null;
        var solution = (double[])right.Clone();
        Substitute(lower, solution);
        return solution;
    }

    private static double[,]? Cholesky(double[,] matrix)
    {
        var n = matrix.GetLength(0);
        var lower = new double[n, n];
        for (var i = 0; i < n; i++)
        {
            for (var j = 0; j <= i; j++)
            {
                var sum = matrix[i, j];
                for (var k = 0; k < j; k++) sum -= lower[i, k] * lower[j, k];
                if (i != j) lower[i, j] = sum / lower[j, j];
                // What is left of a pivot by rounding alone is nothing.
                else if (!(sum > matrix[i, i] * 1e-13)) return null;
                else lower[i, i] = Math.Sqrt(sum);
            }
        }

        return lower;
    }

    private static void Substitute(double[,] lower, double[] right)
    {
        var n = right.Length;
        for (var i = 0; i < n; i++)
        {
            for (var k = 0; k < i; k++) right[i] -= lower[i, k] * right[k];
            right[i] /= lower[i, i];
        }

        for (var i = n - 1; i >= 0; i--)
        {
            for (var k = i + 1; k < n; k++) right[i] -= lower[k, i] * right[k];
            right[i] /= lower[i, i];
        }
    }
}

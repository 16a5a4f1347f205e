using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>
/// How several quantities that depend on the same independent inputs are spread together (GUM 5.2, JCGM 102).
/// </summary>
internal sealed class JointSpread
{
    private const int Batch = 1000;
    private const int MostTrials = 40_000;
    private const ulong Seed = 102;

    private readonly int count;
    private readonly ImmutableArray<InputShape> shapes;
    private readonly double[] factor;

    // The parts seen through the inverse of the factor: rows of unit variance without correlation.
    private readonly double[] white;

    private JointSpread(double[] parts, ImmutableArray<InputShape> shapes, double[] factor, int count)
    {
        this.shapes = shapes;
        this.factor = factor;
        this.count = count;
        white = [.. parts];
        var column = new double[count];
        for (var j = 0; j < shapes.Length; j++)
        {
            for (var i = 0; i < count; i++) column[i] = white[(i * shapes.Length) + j];
            Forward(column);
            for (var i = 0; i < count; i++) white[(i * shapes.Length) + j] = column[i];
        }
    }

    /// <summary>Puts quantities together; null where one of them follows from the others exactly.</summary>
    /// <param name="parts">
    /// Row by row for each quantity: its change by one standard uncertainty of each input.
    /// </param>
    /// <param name="shapes">How the inputs are spread.</param>
    public static JointSpread? TryOf(double[] parts, ImmutableArray<InputShape> shapes)
    {
        var count = shapes.IsEmpty ? 0 : parts.Length / shapes.Length;
        var factor = Covariance(parts, shapes.Length);
        return count > 0 && Factorize(factor, count) ? new JointSpread(parts, shapes, factor, count) : null;
    }

    /// <summary>The covariance matrix of quantities by their parts: J·Jᵀ, row by row.</summary>
    public static double[] Covariance(double[] parts, int inputs)
    {
        var count = inputs > 0 ? parts.Length / inputs : 0;
        var matrix = new double[count * count];
        for (var i = 0; i < count; i++)
        {
            for (var j = 0; j <= i; j++)
            {
                double sum = 0;
                for (var k = 0; k < inputs; k++) sum += parts[(i * inputs) + k] * parts[(j * inputs) + k];
                matrix[(i * count) + j] = matrix[(j * count) + i] = sum;
            }
        }

        return matrix;
    }

    /// <summary>Squared Mahalanobis distance of deviations from the best estimates.</summary>
    public double Distance(ReadOnlySpan<double> off)
    {
        var rest = off.ToArray();
        Forward(rest);
        double distance = 0;
        foreach (var one in rest) distance += one * one;
        return distance;
    }

    /// <summary>
    /// What each deviation is beside what the others let expect, and the standard uncertainty of that.
    /// </summary>
    public (double Off, double StandardUncertainty)[] GivenTheOthers(ReadOnlySpan<double> off)
    {
        // With P the inverse covariance: (P·r)ᵢ/Pᵢᵢ and 1/√Pᵢᵢ.
        var weighed = off.ToArray();
        Forward(weighed);
        Backward(weighed);
        var given = new (double, double)[count];
        var unit = new double[count];
        for (var i = 0; i < count; i++)
        {
            Array.Clear(unit);
            unit[i] = 1;
            Forward(unit);
            double precision = 0;
            foreach (var one in unit) precision += one * one;
            given[i] = (weighed[i] / precision, 1 / Math.Sqrt(precision));
        }

        return given;
    }

    /// <summary>
    /// Probability of a greater distance by chance. Chi-square would be right for normal inputs; rectangular ones make great
    /// distances rarer, so where it matters the inputs are drawn: as often as it takes to tell the probability from each limit,
    /// or to know it to a twentieth at the limit, and at most 40,000 times.
    /// </summary>
    public double Beyond(double distance, ReadOnlySpan<double> limits)
    {
        double least = 1, greatest = 0;
        foreach (var limit in limits) (least, greatest) = (Math.Min(least, limit), Math.Max(greatest, limit));
        var normal = ChiSquare.Beyond(distance, count);
        if (normal < least / 1000 || normal > Math.Min(0.6, 5 * greatest)) return normal;
        var deviations = new double[shapes.Length];
        var farther = 0;
        for (var trial = 1; trial <= MostTrials; trial++)
        {
            Draws.Fill(Seed, (ulong)trial, shapes, deviations);
            if (Distant(deviations) >= distance) farther++;
            if (trial % Batch == 0 && IsTold(farther, trial, limits)) return Share(farther, trial);
        }

        return Share(farther, MostTrials);
    }

    private static double Share(int farther, int trials) => (farther + 0.5) / (trials + 1);

    private static bool IsTold(int farther, int trials, ReadOnlySpan<double> limits)
    {
        var share = Share(farther, trials);
        foreach (var limit in limits)
        {
            if (trials * limit < 400 && Math.Abs(share - limit) < 4 * Math.Sqrt(Math.Max(share, limit) / trials))
                return false;
        }

        return true;
    }

    private double Distant(ReadOnlySpan<double> deviations)
    {
        double distance = 0;
        for (var i = 0; i < count; i++)
        {
            double sum = 0;
            var row = white.AsSpan(i * deviations.Length, deviations.Length);
            for (var j = 0; j < row.Length; j++) sum += row[j] * deviations[j];
            distance += sum * sum;
        }

        return distance;
    }

    // Cholesky factor in place, lower triangle.
    private static bool Factorize(double[] matrix, int count)
    {
        for (var i = 0; i < count; i++)
        {
            var whole = matrix[(i * count) + i];
            for (var j = 0; j <= i; j++)
            {
                var sum = matrix[(i * count) + j];
                for (var k = 0; k < j; k++) sum -= matrix[(i * count) + k] * matrix[(j * count) + k];
                if (i == j && !(sum > 1e-12 * whole)) return false;
                matrix[(i * count) + j] = i == j ? Math.Sqrt(sum) : sum / matrix[(j * count) + j];
            }
        }

        return true;
    }

    private void Forward(Span<double> rest)
    {
        for (var i = 0; i < count; i++)
        {
            for (var k = 0; k < i; k++) rest[i] -= factor[(i * count) + k] * rest[k];
            rest[i] /= factor[(i * count) + i];
        }
    }

    private void Backward(Span<double> rest)
    {
        for (var i = count - 1; i >= 0; i--)
        {
            for (var k = i + 1; k < count; k++) rest[i] -= factor[(k * count) + i] * rest[k];
            rest[i] /= factor[(i * count) + i];
        }
    }
}

using FleetLight.Electrics;
using MathNet.Numerics.Distributions;

namespace FleetLight.Benchmarks.Diagnosing;

/// <summary>
/// The optimal classifier: Bayes' rule with the generator's own priors, each fault's likelihood worked out by itself.
/// It shares the physics, the catalogue with its priors, and the stated models of insulation and of the look at a
/// fitting with the diagnosis; how they are weighed is its own.
/// </summary>
/// <remarks>
/// At a given figure the readings are normal with the covariance that the inputs in common give them; that is exact for
/// normal deviations as far as the circuit is linear in them. A free figure is integrated over its prior on a grid
/// that is cut finer wherever the likelihood changes.
/// </remarks>
internal sealed class BayesReference(CircuitPlan plan, IReadOnlyList<MeasuredReading> readings)
{
    private const double LogTwoPi = 1.8378770664093454;
    private const int CoarsePoints = 13;
    private const int MostPoints = 120;

    private double MostVolts => Math.Max(
        plan.Model.Driver.OpenCircuitVolts ?? 0, 2 * (plan.Model.Driver.RatedVolts ?? 0));

    private readonly double[] parts = new double[readings.Count * plan.Inputs.Length];

    /// <summary>Logarithm of prior times likelihood of every suspect; −∞ where it cannot be.</summary>
    public double[] LogWeights(IReadOnlyList<Suspect> suspects)
    {
        var logs = new double[suspects.Count];
        for (var i = 0; i < logs.Length; i++)
            logs[i] = Math.Log(suspects[i].Weight) + (suspects[i].IsFree ? Integral(suspects[i]) : At(suspects[i], 0));
        return logs;
    }

    // The integral over the figure's prior: trapezoids of the logarithm.
    private double Integral(Suspect suspect)
    {
        var points = new SortedList<double, double>();
        for (var i = 0; i < CoarsePoints; i++)
        {
            var share = (double)i / (CoarsePoints - 1);
            points[share] = At(suspect, share);
        }

        while (points.Count < MostPoints && Widest(points) is { } share) points[share] = At(suspect, share);
        var total = double.NegativeInfinity;
        for (var i = 1; i < points.Count; i++)
            total = LogSum(total, LogTrapezoid(points, i));
        return total;
    }

    // Where to look next: the middle of the interval that may hold most beyond what the trapezoid sees.
    private static double? Widest(SortedList<double, double> points)
    {
        var best = points.Values.Max();
        double? at = null;
        double most = 1e-4;
        for (var i = 1; i < points.Count; i++)
        {
            var (low, high) = (points.Values[i - 1], points.Values[i]);
            var width = points.Keys[i] - points.Keys[i - 1];
            if (width < 1e-7) continue;
            var upper = Math.Max(low, high);
            var change = double.IsFinite(low) && double.IsFinite(high) ? Math.Abs(high - low) : 50;
            // Next to the peak even a level stretch may hide it; elsewhere what is far below the best is of no account.
            var worth = upper == best
                ? width * (0.2 + change)
                : width * change * Math.Exp(Math.Max(-700, Math.Min(0, upper - best + Math.Min(change, 20))));
            if (double.IsInfinity(best)) worth = width;
            if (!(worth > most)) continue;
            most = worth;
            at = (points.Keys[i] + points.Keys[i - 1]) / 2;
        }

        return at;
    }

    private static double LogTrapezoid(SortedList<double, double> points, int i)
    {
        var (low, high) = (points.Values[i - 1], points.Values[i]);
        var width = points.Keys[i] - points.Keys[i - 1];
        var (lesser, greater) = (Math.Min(low, high), Math.Max(low, high));
        if (double.IsNegativeInfinity(greater)) return greater;
        var gap = greater - lesser;
        // The exact integral of an exponential between the two.
        return greater + Math.Log(width) + (gap < 1e-6 ? 0 : Math.Log(-Math.Exp(-gap) + 1) - Math.Log(gap));
    }

    /// <summary>Logarithm of the readings' density with a suspect at a figure.</summary>
    private double At(Suspect suspect, double share)
    {
        var changes = suspect.ChangesAt(share);
        if (plan.Solve(changes, []) is not { } state) return double.NegativeInfinity;
        var inputs = plan.Inputs.Length;
        var rows = new List<int>();
        var rest = new double[readings.Count];
        var meter = new double[readings.Count];
        double log = 0;
        for (var r = 0; r < readings.Count; r++)
        {
            var (place, quantity, value) = readings[r];
            if (quantity == MeasuredQuantity.FittingLit)
            {
                var lit = Meter.Lit(plan, state, place);
                log += Math.Log(value == 1 ? lit : 1 - lit);
                continue;
            }

            var touched = suspect.Reading < 0 || suspect.Reading == r;
            var shown = Meter.Shown(
                plan, state, place, quantity, changes, touched, parts.AsSpan(rows.Count * inputs, inputs));
            if (!double.IsFinite(shown))
            {
                // An open loop shows no resistance; where nothing holds the cores, the volts may be anything.
                if (quantity != MeasuredQuantity.VoltsDc) return double.NegativeInfinity;
                log -= Math.Log(2 * MostVolts);
                continue;
            }

            if (quantity == MeasuredQuantity.MegohmsInsulation)
            {
                log += LogInsulation(value, shown, Insulation.Of(changes));
                continue;
            }

            rest[rows.Count] = value - shown;
            meter[rows.Count] = Meter.Error(quantity, shown);
            rows.Add(r);
        }

        return log + LogNormal(rest.AsSpan(0, rows.Count), meter, inputs);
    }

    // A log-normal quantity read by a tester that errs and shows nothing below its last digit: the density of what it
    // shows, or the probability that it shows that digit, summed over what may be there.
    private static double LogInsulation(double value, double shown, Insulation spread)
    {
        const int Steps = 800;
        const double Reach = 6;
        var deviation = Math.Sqrt(spread.SharedVariance + Insulation.OwnVariance);
        if (value > 20 * Meter.LeastMegohms && shown > 0)
        {
            // The tester's error is a small share: it adds to the spread of the logarithm.
            var relative = Meter.Error(MeasuredQuantity.MegohmsInsulation, value) / value;
            var both = Math.Sqrt((deviation * deviation) + (relative * relative));
            return Normal.PDFLn(Math.Log(shown), both, Math.Log(value)) - Math.Log(value);
        }

        double sum = 0;
        for (var i = 0; i <= Steps; i++)
        {
            var z = Reach * ((2.0 * i / Steps) - 1);
            var there = shown * Math.Exp(z * deviation);
            var error = Meter.Error(MeasuredQuantity.MegohmsInsulation, there);
            sum += Normal.PDF(0, 1, z) * (2 * Reach / Steps) * (value <= Meter.LeastMegohms
                ? Normal.CDF(there, error, Meter.LeastMegohms)
                : Normal.PDF(there, error, value));
        }

        return Math.Log(sum);
    }

    // Density of a normal vector whose covariance is parts·partsᵀ and the meter's variance.
    private double LogNormal(Span<double> rest, double[] meter, int inputs)
    {
        var n = rest.Length;
        var factor = new double[n, n];
        double log = -0.5 * n * LogTwoPi;
        for (var i = 0; i < n; i++)
        {
            for (var j = 0; j <= i; j++)
            {
                var sum = i == j ? meter[i] * meter[i] : 0;
                for (var k = 0; k < inputs; k++) sum += parts[(i * inputs) + k] * parts[(j * inputs) + k];
                for (var k = 0; k < j; k++) sum -= factor[i, k] * factor[j, k];
                if (i != j) factor[i, j] = sum / factor[j, j];
                else if (!(sum > 0)) return double.NegativeInfinity;
                else factor[i, i] = Math.Sqrt(sum);
            }

            for (var k = 0; k < i; k++) rest[i] -= factor[i, k] * rest[k];
            rest[i] /= factor[i, i];
            log -= (0.5 * rest[i] * rest[i]) + Math.Log(factor[i, i]);
        }

        return log;
    }

    private static double LogSum(double a, double b)
    {
        var (lesser, greater) = (Math.Min(a, b), Math.Max(a, b));
        return double.IsNegativeInfinity(lesser) ? greater : greater + Math.Log(1 + Math.Exp(lesser - greater));
    }
}

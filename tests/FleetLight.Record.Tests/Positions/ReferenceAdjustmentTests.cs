using FleetLight.Contracts;
using FleetLight.Record.Positions;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.Optimization;

namespace FleetLight.Record.Tests.Positions;

/// <summary>
/// Trilateration against another solver: the Levenberg-Marquardt minimiser, inverse and eigenvalues of MathNet.Numerics, with derivatives by differences.
/// No published example of intersection by distances was found whose given and resulting figures are complete in open text (the chapter on it in
/// J. Mahun's "Least Squares Lite" states its result, the figures that it starts from are pictures only), so none is quoted.
/// </summary>
public sealed class ReferenceAdjustmentTests
{
    // Chi-square with two degrees of freedom: −2 ln 0.05.
    private static readonly double Scale = Math.Sqrt(-2 * Math.Log(0.05));

    [Fact]
    public void Place_covariance_and_ellipse_are_those_of_another_solver()
    {
        var random = new Random(20);
        var compared = 0;
        while (compared < 200)
        {
            var truth = new PlanePoint(20 * random.NextDouble(), 20 * random.NextDouble());
            LevelTape[] tapes = [.. Enumerable.Range(0, 3 + random.Next(4)).Select(_ => Drawn(random, truth))];
            if (tapes.Any(tape => tape.From.To(truth) < 1)) continue;
            var outcome = TapeSolver.Solve(tapes);
            if (outcome.Standing != PlacementStanding.Placed || outcome.Weak) continue;
            compared++;
            var place = outcome.Places[0];

            var from = Vector<double>.Build.Dense(tapes.Length, i => i);
            var taped = Vector<double>.Build.Dense(tapes.Length, i => tapes[i].LevelMetres);
            var weights = Vector<double>.Build.Dense(tapes.Length, i => 1 / (tapes[i].DeviationMetres * tapes[i].DeviationMetres));
            var found = new LevenbergMarquardtMinimizer(gradientTolerance: 1e-12, stepTolerance: 1e-14, functionTolerance: 1e-14).FindMinimum(
                ObjectiveFunction.NonlinearModel((at, _) => Distances(tapes, at), from, taped, weights), Vector<double>.Build.Dense([truth.X + 0.3, truth.Y - 0.2]));
            var at = found.MinimizingPoint;
            Assert.Equal(at[0], place.At.X, 1e-5);
            Assert.Equal(at[1], place.At.Y, 1e-5);

            var jacobian = Jacobian(tapes, at);
            var covariance = (jacobian.TransposeThisAndMultiply(Matrix<double>.Build.DenseOfDiagonalVector(weights)) * jacobian).Inverse();
            var size = covariance.Trace();
            Assert.Equal(covariance[0, 0], place.Spread.XX, 1e-4 * size);
            Assert.Equal(covariance[0, 1], place.Spread.XY, 1e-4 * size);
            Assert.Equal(covariance[1, 1], place.Spread.YY, 1e-4 * size);
            var residuals = Distances(tapes, at) - taped;
            Assert.Equal(residuals.PointwisePower(2).DotProduct(weights), place.ChiSquare, 1e-3);

            var axes = covariance.Evd(Symmetricity.Symmetric);
            var ellipse = place.Spread.Ellipse();
            // Shown to the millimetre.
            Assert.Equal(Scale * Math.Sqrt(axes.EigenValues[1].Real), ellipse.SemiMajorMetres, 0.001);
            Assert.Equal(Scale * Math.Sqrt(axes.EigenValues[0].Real), ellipse.SemiMinorMetres, 0.001);
            // East is X and north is Y: the bearing of an axis goes from Y to X. A circle has none.
            if (axes.EigenValues[1].Real < 1.5 * axes.EigenValues[0].Real) continue;
            var bearing = double.RadiansToDegrees(Math.Atan2(axes.EigenVectors[0, 1], axes.EigenVectors[1, 1]));
            var off = Math.Abs(Math.IEEERemainder(bearing - ellipse.BearingDegrees, 180));
            Assert.True(off < 0.6, $"{bearing} against {ellipse.BearingDegrees}");
        }
    }

    private static LevelTape Drawn(Random random, PlanePoint truth)
    {
        PlanePoint from = new(20 * random.NextDouble(), 20 * random.NextDouble());
        var deviation = 0.01 + (0.03 * random.NextDouble());
        return new LevelTape(from, from.To(truth) + (deviation * ((2 * random.NextDouble()) - 1)), deviation);
    }

    private static Vector<double> Distances(LevelTape[] tapes, Vector<double> at) =>
        Vector<double>.Build.Dense(tapes.Length, i => Math.Sqrt(Math.Pow(at[0] - tapes[i].From.X, 2) + Math.Pow(at[1] - tapes[i].From.Y, 2)));

    private static Matrix<double> Jacobian(LevelTape[] tapes, Vector<double> at)
    {
        const double step = 1e-5;
        return Matrix<double>.Build.DenseOfColumnVectors(Enumerable.Range(0, 2).Select(axis =>
        {
            var move = Vector<double>.Build.Dense(2, i => i == axis ? step : 0);
            return (Distances(tapes, at + move) - Distances(tapes, at - move)) / (2 * step);
        }));
    }
}

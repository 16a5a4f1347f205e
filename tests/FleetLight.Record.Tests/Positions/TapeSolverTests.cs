using FleetLight.Contracts;
using FleetLight.Record.Positions;

namespace FleetLight.Record.Tests.Positions;

public sealed class TapeSolverTests
{
    private static readonly PlanePoint A = new(0, 0);
    private static readonly PlanePoint B = new(6, 0);
    private static readonly PlanePoint C = new(3, -5);

    // Right triangles 3-4-5 and, over the base of 6 m, the law of cosines.
    [Fact]
    public void Two_tapes_and_a_side_give_the_place()
    {
        var outcome = TapeSolver.Solve([Tape(A, 5), Tape(B, 5)], side: SideOfLine.Right);

        var place = Assert.Single(outcome.Places);
        Assert.Equal(PlacementStanding.Placed, outcome.Standing);
        Near(new(3, -4), place.At, 1e-6);
        Assert.Null(outcome.Fits);
    }

    [Fact]
    public void Two_tapes_alone_leave_both_places()
    {
        var outcome = TapeSolver.Solve([Tape(A, 5), Tape(B, 5)]);

        Assert.Equal(PlacementStanding.TwoPlaces, outcome.Standing);
        Assert.Equal([SideOfLine.Left, SideOfLine.Right], outcome.Places.Select(place => place.Side));
        Near(new(3, 4), outcome.Places[0].At, 1e-6);
        Near(new(3, -4), outcome.Places[1].At, 1e-6);
    }

    [Theory]
    [InlineData(5, PlacementStanding.Placed)]
    [InlineData(9, PlacementStanding.TwoPlaces)]
    public void A_rough_position_tells_the_side_where_it_is_good_enough(double radius, PlacementStanding standing)
    {
        var outcome = TapeSolver.Solve([Tape(A, 5), Tape(B, 5)], rough: new(new PlanePoint(4, 5), radius));

        Assert.Equal(standing, outcome.Standing);
        if (standing == PlacementStanding.Placed) Near(new(3, 4), Assert.Single(outcome.Places).At, 1e-6);
    }

    // With both tapes at right angles to one another each gives one axis: the ellipse has the tape's own accuracy in both.
    [Fact]
    public void Tapes_that_cross_squarely_give_a_circle()
    {
        var place = Assert.Single(TapeSolver.Solve([Tape(A, 3), Tape(new(3, 3), 3)], side: SideOfLine.Right).Places);

        Near(new(3, 0), place.At, 1e-6);
        Assert.Equal(0.02 * 0.02, place.Spread.XX, 1e-9);
        Assert.Equal(0.02 * 0.02, place.Spread.YY, 1e-9);
        Assert.Equal(0, place.Spread.XY, 1e-9);
    }

    // Tapes of the deviation s that cross at the angle g (symmetrically about north): variances s²/(2 cos²(g/2)) and s²/(2 sin²(g/2)), as any
    // text on intersection by two lines has it.
    [Fact]
    public void The_angle_of_crossing_makes_the_ellipse()
    {
        var place = Assert.Single(TapeSolver.Solve([Tape(A, 5), Tape(B, 5)], side: SideOfLine.Left).Places);
        var half = Math.Atan2(3, 4);

        Assert.Equal(0.0004 / (2 * Math.Sin(half) * Math.Sin(half)), place.Spread.XX, 1e-8);
        Assert.Equal(0.0004 / (2 * Math.Cos(half) * Math.Cos(half)), place.Spread.YY, 1e-8);
    }

    [Fact]
    public void Tapes_that_do_not_reach_one_another_are_told()
    {
        Assert.Equal(PlacementStanding.NoMeeting, TapeSolver.Solve([Tape(A, 2), Tape(B, 3)]).Standing);
        Assert.Equal(1, TapeSolver.Solve([Tape(A, 2), Tape(B, 3)]).GapMetres!.Value, 1e-9);
        Assert.Equal(PlacementStanding.NoMeeting, TapeSolver.Solve([Tape(A, 10), Tape(B, 3)]).Standing);
    }

    [Theory]
    [InlineData(2, 4)]
    [InlineData(2, 3.97)]
    [InlineData(8, 2)]
    [InlineData(2, 4.002)]
    public void A_thing_on_the_line_of_its_points_has_no_place(double a, double b) =>
        Assert.Equal(PlacementStanding.Collinear, TapeSolver.Solve([Tape(A, a), Tape(B, b)], side: SideOfLine.Left).Standing);

    [Fact]
    public void Three_points_on_one_line_leave_both_sides()
    {
        var outcome = TapeSolver.Solve([Tape(A, 5), Tape(B, 5), Tape(new(3, 0), 4)]);

        Assert.Equal(PlacementStanding.TwoPlaces, outcome.Standing);
        Assert.Equal(2, outcome.Places.Count);
    }

    [Fact]
    public void A_narrow_crossing_is_called_weak()
    {
        PlanePoint far = new(0.5, 0);
        Assert.True(TapeSolver.Solve([Tape(A, 3), Tape(far, 3)], side: SideOfLine.Left).Weak);
        Assert.False(TapeSolver.Solve([Tape(A, 5), Tape(B, 5)], side: SideOfLine.Left).Weak);
    }

    [Fact]
    public void A_side_that_three_tapes_deny_does_not_count()
    {
        var truth = new PlanePoint(2, 3);
        var outcome = TapeSolver.Solve([.. Exact(truth, A, B, C)], side: SideOfLine.Right);

        Assert.True(outcome.SideDenied);
        Near(truth, Assert.Single(outcome.Places).At, 1e-6);
    }

    [Fact]
    public void Of_three_tapes_a_misfit_is_told_but_not_whose()
    {
        LevelTape[] tapes = [.. Exact(new(2, 3), A, B, C)];
        tapes[1] = tapes[1] with { LevelMetres = tapes[1].LevelMetres + 1 };
        var outcome = TapeSolver.Solve(tapes);

        Assert.False(outcome.Fits);
        Assert.Null(outcome.Suspect);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void Of_five_tapes_the_wrong_one_is_named(int wrong)
    {
        LevelTape[] tapes = [.. Exact(new(2, 3), A, B, C, new(8, 7), new(-3, 5))];
        tapes[wrong] = tapes[wrong] with { LevelMetres = tapes[wrong].LevelMetres + 1 };

        Assert.Equal(wrong, TapeSolver.Solve(tapes).Suspect);
    }

    [Fact]
    public void Without_errors_it_is_exact_wherever_the_points_are()
    {
        var random = new Random(71);
        for (var i = 0; i < 2000; i++)
        {
            var (points, truth) = Drawn(random, 3 + random.Next(4));
            var outcome = TapeSolver.Solve([.. Exact(truth, points)]);
            if (outcome.Standing != PlacementStanding.Placed) continue;
            Near(truth, outcome.Places[0].At, 1e-5);
            Assert.True(outcome.Fits);
        }
    }

    [Fact]
    public void Turned_and_moved_it_is_the_same()
    {
        var random = new Random(72);
        for (var i = 0; i < 500; i++)
        {
            var (points, truth) = Drawn(random, 3);
            LevelTape[] tapes = [.. Exact(truth, points).Select(tape => tape with { LevelMetres = tape.LevelMetres + (0.03 * random.NextDouble()) })];
            var (angle, shift) = (random.NextDouble() * 6, new PlanePoint(100 * random.NextDouble(), -50 * random.NextDouble()));
            var one = TapeSolver.Solve(tapes);
            var other = TapeSolver.Solve([.. tapes.Select(tape => tape with { From = Turned(tape.From, angle, shift) })]);

            Assert.Equal(one.Standing, other.Standing);
            Assert.Equal(one.Places.Count, other.Places.Count);
            foreach (var (here, there) in one.Places.Zip(other.Places))
            {
                Near(Turned(here.At, angle, shift), there.At, 1e-5);
                var (before, after) = (here.Spread.Ellipse(), there.Spread.Ellipse());
                Assert.Equal(before.SemiMajorMetres, after.SemiMajorMetres, 0.002);
                Assert.Equal(before.SemiMinorMetres, after.SemiMinorMetres, 0.002);
                Assert.Equal(here.ChiSquare, there.ChiSquare, 1e-3);
            }
        }
    }

    // Independent of the solver: the truth is drawn, tapes and reference points are given errors, and it is counted how often the ellipse holds
    // the truth. 4,000 draws of 95 % have a standard deviation of 0.34 %.
    [Theory]
    [InlineData(2, 0.0)]
    [InlineData(2, 0.05)]
    [InlineData(3, 0.05)]
    [InlineData(5, 0.02)]
    public void The_ellipse_holds_the_truth_95_times_in_100(int count, double ofPoints)
    {
        var random = new Random(73 + count);
        int held = 0, all = 0, called = 0;
        while (all < 4000)
        {
            var (points, truth) = Drawn(random, count);
            var covariance = new double[2 * count, 2 * count];
            for (var i = 0; i < 2 * count; i++) covariance[i, i] = ofPoints * ofPoints;
            LevelTape[] tapes =
            [
                .. points.Select(point => new LevelTape(
                    new(point.X + (ofPoints * Normal(random)), point.Y + (ofPoints * Normal(random))), point.To(truth) + (0.02 * Normal(random)), 0.02)),
            ];
            var outcome = TapeSolver.Solve(tapes, covariance, SideOf(truth, points));
            // Weak fixes are said to be weak: first order does not hold for them.
            if (outcome.Standing != PlacementStanding.Placed || outcome.Weak || outcome.SideDenied) continue;
            all++;
            var place = outcome.Places[0];
            if (place.Spread.SquareOf(truth.X - place.At.X, truth.Y - place.At.Y) <= 5.991) held++;
            if (outcome.Fits == false) called++;
        }

        Assert.InRange(held / 4000.0, 0.938, 0.962);
        // One in a thousand: 4 of 4,000, with a standard deviation of 2.
        Assert.InRange(called, 0, 14);
    }

    // The spread of many solutions of one figure, against the one worked out.
    [Fact]
    public void The_covariance_is_that_of_a_simulation()
    {
        var random = new Random(79);
        PlanePoint[] points = [A, B, C];
        PlanePoint truth = new(2, 6);
        double x = 0, y = 0, xx = 0, xy = 0, yy = 0;
        const int n = 20000;
        for (var i = 0; i < n; i++)
        {
            var at = TapeSolver.Solve([.. points.Select(point => new LevelTape(point, point.To(truth) + (0.02 * Normal(random)), 0.02))]).Places[0].At;
            (x, y) = (x + at.X - truth.X, y + at.Y - truth.Y);
            xx += (at.X - truth.X) * (at.X - truth.X);
            xy += (at.X - truth.X) * (at.Y - truth.Y);
            yy += (at.Y - truth.Y) * (at.Y - truth.Y);
        }

        var spread = TapeSolver.Solve([.. Exact(truth, points)]).Places[0].Spread;
        Assert.Equal(0, x / n, 5 * Math.Sqrt(spread.XX / n));
        Assert.Equal(0, y / n, 5 * Math.Sqrt(spread.YY / n));
        Assert.Equal(1, xx / n / spread.XX, 0.05);
        Assert.Equal(1, yy / n / spread.YY, 0.05);
        Assert.Equal(spread.XY, xy / n, 0.05 * Math.Sqrt(spread.XX * spread.YY));
    }

    private static LevelTape Tape(PlanePoint from, double metres) => new(from, metres, 0.02);

    private static IEnumerable<LevelTape> Exact(PlanePoint truth, params PlanePoint[] points) => points.Select(point => Tape(point, point.To(truth)));

    private static SideOfLine SideOf(PlanePoint at, PlanePoint[] points) =>
        ((points[1].X - points[0].X) * (at.Y - points[0].Y)) - ((points[1].Y - points[0].Y) * (at.X - points[0].X)) >= 0 ? SideOfLine.Left : SideOfLine.Right;

    private static (PlanePoint[] Points, PlanePoint Truth) Drawn(Random random, int count)
    {
        PlanePoint[] points = [.. Enumerable.Range(0, count).Select(_ => Any())];
        var truth = Any();
        return points.Any(point => point.To(truth) < 1) || points[0].To(points[1]) < 1 ? Drawn(random, count) : (points, truth);

        PlanePoint Any() => new(20 * random.NextDouble(), 20 * random.NextDouble());
    }

    private static PlanePoint Turned(PlanePoint at, double angle, PlanePoint shift) =>
        new((at.X * Math.Cos(angle)) - (at.Y * Math.Sin(angle)) + shift.X, (at.X * Math.Sin(angle)) + (at.Y * Math.Cos(angle)) + shift.Y);

    private static double Normal(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    private static void Near(PlanePoint expected, PlanePoint found, double metres) =>
        Assert.True(expected.To(found) <= metres, $"{expected} is {expected.To(found)} m from {found}.");
}

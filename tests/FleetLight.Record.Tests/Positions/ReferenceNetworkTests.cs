using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Record.Corrections;
using FleetLight.Record.Positions;

namespace FleetLight.Record.Tests.Positions;

public sealed class ReferenceNetworkTests
{
    [Fact]
    public void Points_that_are_taped_only_with_one_another_have_a_plane_of_their_own()
    {
        var network = Network(
            Placing.Point("a"), Placing.Point("b", tapes: [Placing.Tape("a", 6)]),
            Placing.Point("c", tapes: [Placing.Tape("a", 5), Placing.Tape("b", 5)], side: SideOfLine.Right));

        Assert.All(network.Points.Values, point => Assert.Equal("own:a", point.Frame.Name));
        Near(new(6, 0), network, "b");
        Near(new(3, -4), network, "c");
    }

    [Fact]
    public void Without_a_side_a_third_point_stays_open()
    {
        var network = Network(
            Placing.Point("a"), Placing.Point("b", tapes: [Placing.Tape("a", 6)]), Placing.Point("c", tapes: [Placing.Tape("a", 5), Placing.Tape("b", 5)]));

        Assert.Equal(PlacementStanding.TwoPlaces, network.Points["c"].Standing);
        Assert.Null(network.Points["c"].At);
    }

    // Two fixes of a phone, 8 m each, and an exact tape between them: the length is the tape's, the middle that of the fixes, and its variance
    // half of one fix's.
    [Fact]
    public void A_tape_between_two_rough_positions_sets_their_distance()
    {
        var network = Network(
            Placing.Point("a", Placing.Degrees(0, 0, 8)), Placing.Point("b", Placing.Degrees(9, 0, 8), tapes: [Placing.Tape("a", 6, 0.01)]));
        var (a, b) = (network.Points["a"].At!.Value, network.Points["b"].At!.Value);

        Assert.Equal(6, a.To(b), 0.001);
        Assert.Equal(0, (a.X + b.X) / 2, 0.001);
        var covariance = network.Covariance([network.Points["a"], network.Points["b"]]);
        var middle = (covariance[0, 0] + covariance[2, 2] + (2 * covariance[0, 2])) / 4;
        Assert.Equal(8 / Confidence.Circle * (8 / Confidence.Circle) / 2, middle, 0.01);
        var apart = covariance[0, 0] + covariance[2, 2] - (2 * covariance[0, 2]);
        Assert.Equal(0.01 / Confidence.Line, Math.Sqrt(apart), 0.0005);
    }

    // A square of 10 m with a diagonal that is 0.5 m too long.
    [Fact]
    public void A_figure_that_does_not_fit_is_told()
    {
        Counted<ReferencePointRecorded>[] facts = Counted(
            Placing.Point("a", local: Placing.At(0, 0)), Placing.Point("b", local: Placing.At(10, 0), tapes: [Placing.Tape("a", 10)]),
            Placing.Point("c", local: Placing.At(10, 10), tapes: [Placing.Tape("b", 10), Placing.Tape("a", Math.Sqrt(200) + 0.5)]));
        var network = ReferenceNetwork.Of(facts);

        Assert.False(PlaceFold.OfPoint(network.Points["c"], network).Fits);
        Assert.Equal(3, PlaceFold.OfPoint(network.Points["c"], network).DegreesOfFreedom);
    }

    [Fact]
    public void An_offset_places_a_point()
    {
        var network = Network(
            Placing.Point("a", local: Placing.At(0, 0)), Placing.Point("b", local: Placing.At(0, 10)),
            Placing.Point("c", offset: new() { From = "a", To = "b", AlongMetres = 4, SquareMetres = 3, Side = SideOfLine.Right }));

        Near(new(3, 4), network, "c");
    }

    [Fact]
    public void A_point_of_which_only_the_name_is_known_waits() =>
        Assert.Equal(PlacementStanding.Waiting, Network(Placing.Point("a")).Points["a"].Standing);

    [Fact]
    public void Its_work_is_bounded()
    {
        var many = Enumerable.Range(0, 400).Select(i => Placing.Point(
            $"p{i:000}", local: Placing.At(i, i % 7), tapes: i == 0 ? null : [Placing.Tape($"p{i - 1:000}", 5)]));

        Assert.Equal(ReferenceNetwork.MostPoints, Network([.. many]).Points.Count);
    }

    // 2,000 draws: a chain of three points and a thing from two of them; the ellipse of the last holds the truth 95 times in 100.
    [Fact]
    public void What_is_not_known_of_the_first_points_is_carried_to_the_last()
    {
        var random = new Random(83);
        var held = 0;
        for (var i = 0; i < 2000; i++)
        {
            var network = Network(
                Placing.Point("a", local: Placing.At(0.1 * Normal(random), 0.1 * Normal(random), 0.1 * Confidence.Circle)),
                Placing.Point("b", local: Placing.At(10 + (0.1 * Normal(random)), 0.1 * Normal(random), 0.1 * Confidence.Circle), tapes: [Tape("a", 10)]),
                Placing.Point("c", tapes: [Tape("a", Math.Sqrt(125)), Tape("b", Math.Sqrt(125))], side: SideOfLine.Left),
                Placing.Point("d", tapes: [Tape("b", Math.Sqrt(89)), Tape("c", Math.Sqrt(34))], side: SideOfLine.Right));
            var (at, spread) = (network.Points["d"].At!.Value, network.Covariance([network.Points["d"]]));
            if (new PlaneSpread(spread[0, 0], spread[0, 1], spread[1, 1]).SquareOf(at.X - 15, at.Y - 8) <= 5.991) held++;
        }

        Assert.InRange(held / 2000.0, 0.935, 0.965);

        // b is (10, 0), c is (5, 10), d is (15, 8): √(25 + 64) from b and √(100 + 4) from c.
        Tape Tape(string from, double metres) =>
            Placing.Tape(from, (from == "c" ? Math.Sqrt(104) : metres) + (0.02 * Normal(random)), 0.02 * Confidence.Line);
    }

    private static ReferenceNetwork Network(params ReferencePointRecorded[] points) => ReferenceNetwork.Of(Counted(points));

    private static Counted<ReferencePointRecorded>[] Counted(params ReferencePointRecorded[] points)
    {
        var crew = new Crew();
        return [.. points.Select(point => new Counted<ReferencePointRecorded>(point, crew.Records(point)))];
    }

    private static double Normal(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    private static void Near(PlanePoint expected, ReferenceNetwork network, string id) =>
        Assert.True(expected.To(network.Points[id].At!.Value) < 1e-4, $"{id} is at {network.Points[id].At}.");
}

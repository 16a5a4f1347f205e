using FleetLight.Contracts;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.PageParts.Drawings.Circuits;

namespace FleetLight.Pages.Tests.Drawings;

/// <summary>A circuit is laid out in order, within the width, with nothing on top of anything else.</summary>
public sealed class CircuitLayoutTests
{
    [Fact]
    public void A_loop_without_runs_is_drawn_in_the_order_of_its_fittings()
    {
        var tree = CircuitTree.Of(Circuit(DriveKind.ConstantCurrent, 3));

        Assert.Equal(["driver", "f1", "f2", "f3"], tree.Places.Select(place => place.Id));
        Assert.All(tree.Places, place => Assert.Null(place.Run));
    }

    [Fact]
    public void A_loop_that_comes_back_to_the_driver_stays_one_line()
    {
        var tree = CircuitTree.Of(Circuit(DriveKind.ConstantCurrent, 3, ("driver", "f1"), ("f1", "f2"), ("f2", "f3"), ("f3", "driver")));

        Assert.Equal(["driver", "f1", "f2", "f3"], tree.Places.Select(place => place.Id));
        Assert.Equal("driver", Assert.Single(tree.Places.Last().Closes).Place);
    }

    [Fact]
    public void A_ring_on_constant_voltage_is_reached_from_both_sides()
    {
        var tree = CircuitTree.Of(Circuit(DriveKind.ConstantVoltage, 4, ("driver", "f1"), ("f1", "f2"), ("f2", "f3"), ("f3", "f4"), ("f4", "driver")));

        var driver = tree.Roots[0];
        Assert.Equal(["f1", "f4"], driver.Children.Select(child => child.Id).Order(StringComparer.Ordinal));
        Assert.Single(tree.Places.SelectMany(place => place.Closes));
    }

    [Fact]
    public void What_no_run_reaches_is_drawn_by_itself()
    {
        var tree = CircuitTree.Of(Circuit(DriveKind.ConstantVoltage, 3, ("driver", "f1"), ("f2", "f3")));

        Assert.Equal(["driver", "f2"], tree.Roots.Select(root => root.Id));
        Assert.Equal(4, tree.Places.Count());
    }

    [Fact]
    public void Places_go_on_in_a_new_row_with_a_number_at_both_breaks()
    {
        var layout = Layout(Circuit(DriveKind.ConstantCurrent, 7), 328);

        Assert.Equal(3, layout.Columns);
        Assert.Equal([0, 0, 0, 1, 1, 1, 2, 2], layout.Places.Select(place => place.Row));
        Assert.Equal([1, 1, 2, 2], layout.Breaks.Select(sign => sign.Number));
        Assert.Equal([false, true, false, true], layout.Breaks.Select(sign => sign.GoesOn));
    }

    [Fact]
    public void Fittings_on_boxes_hang_below_them()
    {
        var layout = Layout(
            Circuit(DriveKind.ConstantVoltage, 3, ("driver", "b1"), ("b1", "b2"), ("b2", "b3"), ("b1", "f1"), ("b2", "f2"), ("b3", "f3")), 700);

        var places = layout.Places.ToDictionary(place => place.Node.Id);
        Assert.Equal(places["b1"].Column, places["f1"].Column);
        Assert.Equal(places["b2"].Column, places["f2"].Column);
        Assert.Equal([1, 1], ((string[])["f1", "f2"]).Select(id => places[id].Row));
        Assert.Empty(layout.Breaks);
    }

    [Theory]
    [InlineData(328, 1)]
    [InlineData(328, 2)]
    [InlineData(700, 3)]
    [InlineData(1300, 4)]
    [InlineData(100, 5)]
    public void Two_hundred_fittings_on_any_tree_keep_within_the_width_and_apart(double width, int seed)
    {
        var chance = new Random(seed);
        var runs = Enumerable.Range(1, 200)
            .Select(number => (number == 1 || chance.Next(30) == 0 ? "driver" : $"f{Math.Max(1, number - 1 - chance.Next(seed * 2))}", $"f{number}")).ToArray();
        var layout = Layout(Circuit(DriveKind.ConstantVoltage, 200, runs), width);

        Assert.Equal(201, layout.Places.Count);
        Assert.Equal(201, layout.Places.Select(place => (place.Row, place.Column)).Distinct().Count());
        Assert.All(layout.Places, place => Assert.InRange(place.Centre.X, CircuitLayout.Radius, layout.Width - CircuitLayout.Radius));
        Assert.All(layout.Places, place => Assert.InRange(place.Text.At.Y + ((place.Text.Lines.Count - 1) * CircuitLayout.LineHeight), 0, layout.Height));
        Assert.All(layout.Places, place => Assert.True(place.Cable is null || place.Cable.At.Y >= CircuitLayout.LineHeight / 2));
        AssertNothingCrosses(layout);
    }

    [Fact]
    public void The_suspects_are_those_of_the_leading_explanations()
    {
        var suspects = Suspect.Of(
        [
            Explains(0.6, "f2", "f3"), Explains(0.3, "f2"), Explains(0.05, "f1"),
        ]);

        Assert.Equal(["f2", "f3"], suspects.Select(suspect => suspect.At));
        Assert.Equal(0.9, suspects[0].Likelihood, 6);
    }

    [Fact]
    public void The_texts_say_cores_by_signs_and_what_is_spare()
    {
        var parts = new CircuitParts
        {
            Id = "k1",
            Circuit = Circuit(DriveKind.ConstantCurrent, 1, ("driver", "f1")),
            CableOfRun = new Dictionary<string, string> { ["r1"] = "c1" },
            Cables =
            [
                new Contracts.Views.CableView
                {
                    Id = "c1", DuctIds = [], SpareCores = 1, WaitingFor = [], Contradictions = [], Findings = [], Facts = [],
                    Cores = [Core("brown", CorePolarity.Positive), Core("blue", CorePolarity.Negative), new() { Core = "grey", Use = CoreUse.Spare, Sleeves = Sleeves(null) }],
                },
            ],
        };
        var text = new CircuitText(parts);
        var fitting = CircuitTree.Of(parts.Circuit).Places.Last();

        Assert.Equal(["12.5 m", "3 × 1.5 mm²", "brown +", "blue −"], text.Cable(fitting.Run).Select(line => line.Text));
        Assert.Contains("brown plus, blue minus, grey spare", text.Told(fitting), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("short", 10, new[] { "short" })]
    [InlineData("a box by the steps", 10, new[] { "a box by", "the steps" })]
    [InlineData("withoutanyspaces", 10, new[] { "withoutan…" })]
    [InlineData("one two three four five six", 9, new[] { "one two", "three fo…" })]
    public void Text_is_broken_at_spaces_and_cut(string text, int most, string[] lines) =>
        Assert.Equal(lines, TextFit.Lines([new TextLine(text)], most).Select(line => line.Text));

    // A run crosses another where a level and an upright piece of theirs meet inside both.
    private static void AssertNothingCrosses(CircuitLayout layout)
    {
        var pieces = layout.Runs.SelectMany(run => run.Points.Zip(run.Points.Skip(1)).Select(piece => (run.To, piece.First, piece.Second))).ToList();
        var level = pieces.Where(piece => piece.First.Y.Equals(piece.Second.Y)).ToList();
        foreach (var upright in pieces.Where(piece => piece.First.X.Equals(piece.Second.X)))
        {
            var (top, bottom) = (Math.Min(upright.First.Y, upright.Second.Y), Math.Max(upright.First.Y, upright.Second.Y));
            Assert.DoesNotContain(level, piece =>
                piece.To.Parent != upright.To.Parent
                && piece.First.Y > top && piece.First.Y < bottom
                && Math.Min(piece.First.X, piece.Second.X) < upright.First.X && upright.First.X < Math.Max(piece.First.X, piece.Second.X));
        }
    }

    private static CircuitLayout Layout(CircuitInput circuit, double width)
    {
        var parts = new CircuitParts { Id = "k1", Circuit = circuit };
        return CircuitLayout.Of(CircuitTree.Of(circuit), new CircuitText(parts), width);
    }

    private static Contracts.Views.ExplanationView Explains(double likelihood, params string[] at) =>
        new() { Fault = "fitting-shorted", Says = "It is shorted.", At = at, Likelihood = likelihood, Group = 1 };

    private static Contracts.Views.CoreView Core(string name, CorePolarity polarity) =>
        new() { Core = name, Use = CoreUse.Circuit, CircuitId = "k1", Sleeves = Sleeves(polarity) };

    private static Dictionary<RunEnd, CorePolarity> Sleeves(CorePolarity? polarity) =>
        polarity is { } known ? new() { [RunEnd.Near] = known, [RunEnd.Far] = known } : [];

    private static CircuitInput Circuit(DriveKind drive, int fittings, params (string From, string To)[] runs) => new()
    {
        Drive = drive,
        Driver = new DriverInput { RatedMilliamps = 350, RatedVolts = 24 },
        Fittings = [.. Enumerable.Range(1, fittings).Select(number => new FittingInput { FittingId = $"f{number}", RatedWatts = 1.6 })],
        Runs =
        [
            .. runs.Select((run, index) => new RunInput
            {
                RunId = $"r{index + 1}", From = run.From, To = run.To, LengthMetres = 12.5, AreaSquareMillimetres = 1.5, ConductorClass = ConductorClass.Class5,
            }),
        ],
    };
}

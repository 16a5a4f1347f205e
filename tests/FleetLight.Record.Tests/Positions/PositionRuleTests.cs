using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Record.Checks;

namespace FleetLight.Record.Tests.Positions;

public sealed class PositionRuleTests
{
    private static readonly Tape[] Two = [Placing.Tape("a", 5), Placing.Tape("b", 5)];
    private static readonly BaselineOffset Offset = new() { From = "a", To = "b", AlongMetres = 1, SquareMetres = 2, Side = SideOfLine.Left };

    public static TheoryData<string, IFact> Wrong => new()
    {
        { "data.position", Placing.Box() },
        { "data.tapes", Placing.Box([Placing.Tape("a", 5)]) },
        { "data.tapes[1].from", Placing.Box([Placing.Tape("a", 5), Placing.Tape("a", 6)]) },
        { "data.offset", Placing.Box(Two, offset: Offset) },
        { "data.position", Placing.Box(position: Placing.Degrees(0, 0), offset: Offset) },
        { "data.side", Placing.Box(side: SideOfLine.Left, position: Placing.Degrees(0, 0)) },
        { "data.offset.to", Placing.Box(offset: Offset with { To = "a" }) },
        { "data.tapes[0].riseMetres", Placing.Box([Placing.Tape("a", 5, rise: -5), Placing.Tape("b", 5)]) },
        { "data.tapes[0].distanceMetres", Placing.Box([Placing.Tape("a", 5000), Placing.Tape("b", 5)]) },
        { "data.kind", Placing.Box(Two) with { Kind = ThingKind.Site } },
        { "data.fittingId", Placing.Box(Two) with { FittingId = "F1" } },
        { "data.end", Placing.Box(Two) with { End = RunEnd.Near } },
        { "data.end", Placing.Box(Two) with { Kind = ThingKind.Duct } },
        { "data.end", Placing.Box(Two) with { Kind = ThingKind.Cable } },
        { "data.chainageMetres", Placing.Box(Two) with { Kind = ThingKind.Cable, End = RunEnd.Far, ChainageMetres = 3 } },
        { "data.chainageMetres", Placing.Box(Two) with { Kind = ThingKind.Duct, End = RunEnd.Far, ChainageMetres = 3 } },
        { "data.position.accuracyMetres", Placing.Box(position: Placing.Degrees(0, 0, 0)) },
        { "data.tapes", Placing.Point("a", tapes: [Placing.Tape("a", 5)]) },
        { "data.offset", Placing.Point("a", offset: Offset) },
        { "data.side", Placing.Point("c", tapes: [Placing.Tape("a", 5)], side: SideOfLine.Left) },
    };

    [Theory]
    [MemberData(nameof(Wrong))]
    public void What_does_not_go_together_is_refused_at_its_member(string field, IFact fact) =>
        Assert.Contains(field, FactCheck.Check(fact).Select(problem => problem.Field));

    [Fact]
    public void What_goes_together_is_taken() => Assert.All(
        [
            Placing.Box(Two, SideOfLine.Left), Placing.Box(Two, position: Placing.Degrees(0, 0, 8, PositionMethod.Phone)), Placing.Box(offset: Offset),
            Placing.Box(Two) with { Kind = ThingKind.Duct, ChainageMetres = 0 }, Placing.Point("c"), Placing.Point("c", tapes: [Placing.Tape("a", 5)]),
        ],
        (IFact fact) => Assert.Empty(FactCheck.Check(fact)));
}

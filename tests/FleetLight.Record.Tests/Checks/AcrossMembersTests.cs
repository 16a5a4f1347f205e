using System.Text.Json;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Record.Checks;

namespace FleetLight.Record.Tests.Checks;

/// <summary>What the members of a fact must say together.</summary>
public sealed class AcrossMembersTests
{
    public static TheoryData<string, IFact, string> Wrong => new()
    {
        { "reading in a box without its id", CircuitFacts.Reading(1, place: ReadingPlaceKind.Box), "data.placeId" },
        { "reading at a fitting without its id", CircuitFacts.Reading(1, place: ReadingPlaceKind.Fitting), "data.placeId" },
        { "constant current without milliamps", CircuitFacts.Designed(driver: CircuitFacts.Driver(milliamps: null)), "data.driver.ratedMilliamps" },
        { "constant voltage without volts", CircuitFacts.Designed(drive: DriveKind.ConstantVoltage, driver: CircuitFacts.Driver()), "data.driver.ratedVolts" },
        { "range of a driver upside down", CircuitFacts.Designed(driver: CircuitFacts.Driver(least: 20, most: 10)), "data.driver.leastVolts" },
        { "the same of a fitted driver", CircuitFacts.Connected(CircuitFacts.Driver(least: 20, most: 10)), "data.driver.leastVolts" },
        { "a fitting twice", CircuitFacts.Designed(fittings: [CircuitFacts.Fitting("F1"), CircuitFacts.Fitting("F1")], runs: []), "data.fittings[1].fittingId" },
        { "a run twice", CircuitFacts.Designed(runs: [CircuitFacts.Run("R", "driver", "F1"), CircuitFacts.Run("R", "F1", "F2")]), "data.runs[1].runId" },
        { "a run to where it starts", CircuitFacts.Designed(runs: [CircuitFacts.Run("R", "F1", "F1")]), "data.runs[0].to" },
        { "a fitting called driver", CircuitFacts.Designed(fittings: [CircuitFacts.Fitting("driver")], runs: []), "data.fittings[0].fittingId" },
        { "a core of no circuit", Facts.CablePulled(cores: [Facts.Core("1", null, CoreUse.Circuit)]), "data.cores[0].circuitId" },
        { "a spare core of a circuit", Facts.CablePulled(cores: [Facts.Core("1", "k1", CoreUse.Spare)]), "data.cores[0].circuitId" },
        { "a core twice", Facts.CablePulled(cores: [Facts.Core("1"), Facts.Core("2"), Facts.Core("1")]), "data.cores[2].core" },
        { "a duct twice", Facts.CablePulled(ducts: ["d1", "d2", "d1"]), "data.ductIds[2]" },
        { "a conductor of nothing", Joint(new() { Core = "1" }), "data.connectors[0].conductors[0]" },
        { "a conductor of both", Joint(new() { Core = "1", CableId = "c", FittingId = "f" }), "data.connectors[0].conductors[0]" },
        { "insulation without nominal volts", CircuitFacts.Insulation(1) with { NominalVolts = null }, "data.nominalVolts" },
        { "insulation without a result", CircuitFacts.Insulation(1) with { Megohms = null }, "data.megohms" },
        { "continuity without a result", CircuitFacts.Continuity() with { Ohms = null }, "data.ohms" },
        { "polarity without a result", CircuitFacts.Polarity() with { PolarityRight = null }, "data.polarityRight" },
        { "trip time without a result", CircuitFacts.TripTime(1) with { TripMilliseconds = null }, "data.tripMilliseconds" },
        { "trip time without the rating", CircuitFacts.TripTime(1) with { RatedResidualMilliamps = null }, "data.ratedResidualMilliamps" },
        { "a service called for twice", Facts.SiteOpened(calls: [new() { Service = DuctService.Gas }, new() { Service = DuctService.Gas }]), "data.ductCalls[1].service" },
        { "a joined circuit", Facts.Joined(ThingKind.Circuit, "a", "b"), "data.kind" },
        { "a thing joined to itself", Facts.Joined(ThingKind.Duct, "a", "a"), "data.sameId" },
        { "a point that is none", At(new() { Type = "point", Coordinates = [1, 2] }), "data.position.type" },
        { "a point off Earth", At(new() { Type = "Point", Coordinates = [1, 91] }), "data.position.coordinates" },
        { "a point of no number", At(new() { Type = "Point", Coordinates = [1, double.NaN] }), "data.position.coordinates" },
        { "a point of one number", At(new() { Type = "Point", Coordinates = [1] }), "data.position.coordinates" },
        { "a route of one point", Route([1, 2]), "data.route.coordinates" },
        { "a route off Earth", Route([1, 2], [181, 2]), "data.route.coordinates[1]" },
        { "a route with a hole", Route([1, 2], null!), "data.route.coordinates[1]" },
        { "a route with a stump", Route([1, 2], [1]), "data.route.coordinates[1]" },
    };

    public static TheoryData<string, FactCorrected, string> WrongCorrections => new()
    {
        { "of no known type", Correct(CorrectionAction.Withdraw) with { TargetType = "fleetlight.duct.dug.v1" }, "data.targetType" },
        { "of a correction", Correct(CorrectionAction.Withdraw) with { TargetType = "fleetlight.fact.corrected.v1" }, "data.targetType" },
        { "withdraws and replaces", Correct(CorrectionAction.Withdraw, Facts.DuctLabelled()), "data.replacement" },
        { "replaces by nothing", Correct(CorrectionAction.Replace), "data.replacement" },
        { "replaces by another type", Correct(CorrectionAction.Replace, Facts.DuctPlugged(RunEnd.Near)), "data.replacement" },
        { "replaces by unsound data", Correct(CorrectionAction.Replace, Facts.DuctLabelled(label: "")), "data.replacement.label" },
    };

    [Theory]
    [MemberData(nameof(Wrong))]
    public void It_is_refused(string what, IFact fact, string field)
    {
        Assert.NotEmpty(what);
        Assert.Equal(field, Assert.Single(FactCheck.Check(fact)).Field);
    }

    [Theory]
    [MemberData(nameof(WrongCorrections))]
    public void A_correction_is_refused(string what, FactCorrected correction, string field)
    {
        Assert.NotEmpty(what);
        Assert.StartsWith(field, Assert.Single(FactCheck.Check(correction)).Field, StringComparison.Ordinal);
    }

    [Fact]
    public void A_member_of_a_replacement_that_cannot_be_read_is_named()
    {
        var json = JsonDocument.Parse("""{"siteId":"s","ductId":"d","label":7}""").RootElement;

        var problem = Assert.Single(FactCheck.Check(
            Correct(CorrectionAction.Replace) with { Replacement = json }));

        Assert.Equal("data.replacement.label", problem.Field);
    }

    [Fact]
    public void Sound_facts_of_every_type_pass() => Assert.All<IFact>(
        [
            Facts.SiteOpened(calls: [new() { Service = DuctService.Gas, Colour = DuctColour.Yellow }]),
            Facts.DuctLaid() with { Route = new() { Type = "LineString", Coordinates = [[-180, -90], [180, 90, 12.5]] } },
            Facts.CablePulled(ducts: []),
            Facts.BoxSealed() with { Position = new() { Type = "Point", Coordinates = [7.1, 50.7] } },
            CircuitFacts.Designed(),
            CircuitFacts.Designed(drive: DriveKind.ConstantVoltage),
            CircuitFacts.TripTime(20, multiple: null),
            Correct(CorrectionAction.Withdraw),
            Correct(CorrectionAction.Replace, Facts.DuctLabelled(label: "other")),
            Facts.Joined(ThingKind.Cable, "a", "b"),
        ],
        fact => Assert.Empty(FactCheck.Check(fact)));

    private static JointMade Joint(HeldConductor held) => Facts.JointMade(connectors: [Facts.Connector(held)]);

    private static BoxSealed At(GeoPoint position) => Facts.BoxSealed() with { Position = position };

    private static DuctLaid Route(params double[][] positions) =>
        Facts.DuctLaid() with { Route = new() { Type = "LineString", Coordinates = positions } };

    private static FactCorrected Correct(CorrectionAction action, IFact? replacement = null) => Facts.Corrected(
        new Crew().Records(Facts.DuctLabelled()), action, replacement is null ? null : Facts.Json(replacement));
}

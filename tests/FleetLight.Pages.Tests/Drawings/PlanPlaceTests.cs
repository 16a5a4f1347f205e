using System.Text.Json;
using FleetLight.PageParts.Drawings.Plans;

namespace FleetLight.Pages.Tests.Drawings;

/// <summary>How a plan shows what is not known of a place.</summary>
public sealed class PlanPlaceTests
{
    private static readonly IReadOnlyList<PlanThing> Things = PlanReader.Read(JsonDocument.Parse(
        """
        {"type":"FeatureCollection","features":[
        {"type":"Feature","id":"box:b1","geometry":{"type":"Point","coordinates":[11.5,48.1]},"properties":{"kind":"box","label":"B1","lie":"flat-in-ground",
          "accuracyMetres":0.12,"method":"tape","errorEllipse":{"semiMajorMetres":0.12,"semiMinorMetres":0.05,"bearingDegrees":30},
          "placement":{"fact":"a#1","measuredAt":"2026-03-05T14:10:00Z","method":"tape","standing":"placed","accuracyMetres":0.12,
            "tapes":[{"from":"a","name":"the garage","distanceMetres":2.4,"accuracyMetres":0.05,"suspect":false}]}}},
        {"type":"Feature","id":"box:b2","geometry":{"type":"Point","coordinates":[11.5,48.1]},"properties":{"kind":"box","label":"B2",
          "errorEllipse":{"semiMajorMetres":"much"},"placement":{"standing":"a newer word"}}},
        {"type":"Feature","id":"reference-point:a","geometry":{"type":"Point","coordinates":[11.5,48.1]},"properties":{"kind":"reference-point","name":"the garage"}},
        {"type":"Feature","id":"driver:k1","geometry":{"type":"Point","coordinates":[11.5,48.1]},"properties":{"kind":"driver","label":"shed","name":"Path","circuitId":"k1"}},
        {"type":"Feature","id":"driver:k2","geometry":{"type":"Point","coordinates":[11.5,48.1]},"properties":{"kind":"driver","label":"shed","name":"Steps","circuitId":"k2"}}
        ]}
        """).RootElement);

    [Fact]
    public void A_box_tells_its_tapes_and_how_well_it_is_known()
    {
        Assert.Equal(new PlanEllipse(0.12, 0.05, 30), Things[0].Ellipse);
        Assert.EndsWith("by tape, within 12 cm, 2.40 m from the garage", Things[0].Says, StringComparison.Ordinal);
    }

    [Fact]
    public void Words_of_a_newer_service_are_passed_over() => Assert.Null(Things[1].Ellipse);

    [Fact]
    public void Reference_points_are_on_the_plan() => Assert.Equal((PlanKind.ReferencePoint, "the garage"), (Things[2].Kind, Things[2].Name));

    [Fact]
    public void Drivers_that_hang_in_one_place_go_by_their_circuits()
    {
        Assert.Equal(["Path", "Steps"], Things.Where(thing => thing.Kind == PlanKind.Driver).Select(thing => thing.Name));
        Assert.All(Things.Where(thing => thing.Kind == PlanKind.Driver), thing => Assert.EndsWith("where: shed", thing.Says, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(8, 4, true)]
    [InlineData(0.1, 4, false)]
    [InlineData(0.1, 200, true)]
    [InlineData(8, 400, false)]
    public void An_outline_is_drawn_where_it_matters(double metres, double pixelsPerMetre, bool shows) =>
        Assert.Equal(shows, new PlanEllipse(metres, metres, 0).ShowsAt(pixelsPerMetre));
}

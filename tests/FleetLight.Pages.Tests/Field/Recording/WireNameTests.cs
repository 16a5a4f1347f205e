using FleetLight.Field.Recording.Forms;

namespace FleetLight.Pages.Tests.Field.Recording;

/// <summary>Names of members on the wire, said as the forms word them.</summary>
public sealed class WireNameTests
{
    [Theory]
    [InlineData("duct-laid", "data.lengthMetres", "Length, m")]
    [InlineData("place-measured", "data.tapes[0].distanceMetres", "Tapes from reference points, 1st: Distance to it, m")]
    [InlineData("place-measured", "data.tapes[11].riseMetres", "Tapes from reference points, 12th: It lies higher than the point by, m")]
    [InlineData("place-measured", "data.tapes", "Tapes from reference points")]
    [InlineData("place-measured", "data.offset.alongMetres", "By an offset from a line between two points: So far along the line, m")]
    [InlineData("cable-pulled", "data.cores[1].circuitId", "Cores, 2nd: What it is used for")]
    [InlineData("joint-made", "data.connectors[1].conductors[0].core", "Connectors, 2nd")]
    [InlineData("duct-laid", "data.route.coordinates", "route.coordinates")]
    [InlineData("duct-laid", "time", "time")]
    public void A_member_goes_by_the_label_of_its_form_or_by_its_own_name(string form, string path, string label) =>
        Assert.Equal(label, FactForms.Find(form)!.LabelOf(path));

    [Theory]
    [InlineData("duct-laid", "lengthMetres is 12000; 0.1 to 2000 m is accepted.", "\"Length\" is 12000; 0.1 to 2000 m is accepted.")]
    [InlineData("place-measured", "Give end or chainageMetres.", "Give end or \"Or a point between: so far from the near end\".")]
    [InlineData("place-measured", "It depends on the end.", "It depends on the end.")]
    [InlineData("place-measured", "distanceMetres is 0; 0.01 to 500 m is accepted.", "\"Distance to it\" is 0; 0.01 to 500 m is accepted.")]
    [InlineData("duct-laid", "lengthMetresOfAll is no member.", "lengthMetresOfAll is no member.")]
    public void A_sentence_of_the_checks_names_members_as_the_form_does(string form, string said, string worded) =>
        Assert.Equal(worded, FactForms.Find(form)!.InWords(said));

    [Fact]
    public void The_field_that_leads_to_a_member_is_found()
    {
        Assert.Equal("tapes", FactForms.Find("place-measured")!.FieldAt("data.tapes[1].from"));
        Assert.Null(FactForms.Find("duct-laid")!.FieldAt("data.lengthMetresOfAll"));
    }
}

using System.Text.Json.Nodes;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Field.Recording.Forms;

namespace FleetLight.Field.Recording.Facts;

/// <summary>A reference point was recorded: something that stays, from which tapes run.</summary>
internal sealed class ReferencePointForm : FactForm<ReferencePointRecorded>
{
    public override string Key => "reference-point";

    public override string Title => "Reference point";

    public override FormGroup Group => FormGroup.InTheGround;

    public override IReadOnlyList<string> Follows => ["reference-point", "place-measured"];

    public override IReadOnlyList<FormField> Fields { get; } =
    [
        Ask<ReferencePointRecorded>.Pick(nameof(ReferencePointRecorded.PointId), "Which point", Points) with
        {
            Hint = "One that is recorded again counts anew, and all that was taped from it follows.",
            Picked = (context, data) =>
            {
                if (context.Works.SiteOf(context.SiteId)?.ReferencePoints?.FirstOrDefault(point => point.PointId == Text(data, "pointId")) is { } known) data["name"] = known.Name;
            },
        },
        Ask<ReferencePointRecorded>.Text(nameof(ReferencePointRecorded.Name), "What it is, so that a stranger finds it") with { Hint = "North-west corner of the garage." },
        Ask<ReferencePointRecorded>.Position(),
        PlaceParts.Tapes("Tapes from other reference points"),
        PlaceParts.Side,
        PlaceParts.Offset,
        PlaceParts.Local,
        Ask<ReferencePointRecorded>.Text(nameof(ReferencePointRecorded.Description), "More of it") with { Seldom = true, Lines = true },
    ];

    public override ThingRef? Shows(JsonObject data) => null;

    public override void Begin(FormContext context, JsonObject data) => data["pointId"] = context.NewId("r");

    public override JsonObject Remembered(JsonObject data) => [];

    private static IReadOnlyList<Choice> Points(FormContext context, JsonObject data)
    {
        List<Choice> all = [.. context.ReferencePoints()];
        var chosen = Text(data, "pointId");
        all.Add(new Choice(chosen is not null && all.All(each => each.Word != chosen) ? chosen : context.NewId("r"), "A new point"));
        return all;
    }
}

using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Field.Recording.Forms;
using FleetLight.Field.Sites;

namespace FleetLight.Field.Recording.Facts;

/// <summary>A joint was made: which conductors each of its connectors holds.</summary>
internal sealed class JointMadeForm : FactForm<JointMade>
{
    public override string Key => "joint-made";

    public override string Title => "Joint made";

    public override FormGroup Group => FormGroup.InTheGround;

    public override IReadOnlyList<string> Follows => ["box-sealed", "joint-made"];

    public override IReadOnlyList<FormField> Fields { get; } =
    [
        Ask<JointMade>.Pick(nameof(JointMade.BoxId), "In which box", Boxes),
        Ask<JointMade>.Pick(nameof(JointMade.CircuitId), "For which circuit", (context, _) => context.Circuits()) with { NoneSays = "No circuit is designed on this site yet." },
        Ask<JointMade>.Words(nameof(JointMade.Arrangement), "How it is arranged") with { Hint = "Series: one core to one other. Parallel: several at one potential." },
        new ConnectorsField("connectors", "Connectors"),
        Ask<JointMade>.YesNo(nameof(JointMade.UnderFitting), "It sits directly under a fitting") with { Seldom = true, MayBeEmpty = true },
    ];

    public override IReadOnlyList<Caution> Cautions(JsonObject data) => [new("Dead first", "Isolate the circuit and prove dead before a joint is opened or made.")];

    public override bool IsAbout(ThingKind kind) => kind is ThingKind.Box or ThingKind.Circuit;

    public override ThingRef? Shows(JsonObject data) => Text(data, "boxId") is { } id ? new(ThingKind.Box, id) : null;

    public override void Begin(FormContext context, JsonObject data)
    {
        data["jointId"] = context.NewId("j");
        data["boxId"] = context.AboutId(ThingKind.Box) ?? context.Site.Boxes.FirstOrDefault(box => box.SealedAt is null)?.Id ?? context.NewId(IdLetters.Of(ThingKind.Box));
        data["circuitId"] = context.CircuitToBegin();
        var inSeries = context.Design(Text(data, "circuitId"))?.Drive == DriveKind.ConstantCurrent;
        data["arrangement"] = Word(inSeries ? JointArrangement.Series : JointArrangement.Parallel);
        data["connectors"] = new JsonArray();
    }

    private static IReadOnlyList<Choice> Boxes(FormContext context, JsonObject data)
    {
        List<Choice> all = [.. context.Site.Boxes.Select(box => new Choice(box.Id, ThingNames.Of(box)))];
        var chosen = Text(data, "boxId");
        all.Add(new Choice(chosen is not null && all.All(each => each.Word != chosen) ? chosen : context.NewId(IdLetters.Of(ThingKind.Box)), "A box that is not recorded yet"));
        return all;
    }
}

using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Field.Recording.Forms;

namespace FleetLight.Field.Recording.Facts;

/// <summary>A cable was labelled: with the next label of the row.</summary>
internal sealed class CableLabelledForm : FactForm<CableLabelled>
{
    public override string Key => "cable-labelled";

    public override string Title => "Cable labelled";

    public override FormGroup Group => FormGroup.InTheGround;

    public override IReadOnlyList<FormField> Fields { get; } =
    [
        Ask<CableLabelled>.Pick(nameof(CableLabelled.CableId), "Which cable", (context, _) => context.Cables()) with { NoneSays = "No cable is recorded on this site yet." },
        Ask<CableLabelled>.Text(nameof(CableLabelled.Label), "What the label says"),
        Ask<CableLabelled>.Words(nameof(CableLabelled.End), "Which end") with { Hint = "Leave it open where both ends are labelled." },
    ];

    public override bool IsAbout(ThingKind kind) => kind == ThingKind.Cable;

    public override ThingRef? Shows(JsonObject data) => Text(data, "cableId") is { } id ? new(ThingKind.Cable, id) : null;

    public override void Begin(FormContext context, JsonObject data)
    {
        data["cableId"] = context.AboutId(ThingKind.Cable) ?? context.Site.Cables.LastOrDefault(cable => cable.Labels is null or { Count: 0 })?.Id ?? context.NewestCable()?.Id;
        data["label"] = LabelRow.Next(context.Site.Cables.SelectMany(cable => cable.Labels?.Values ?? []));
    }
}

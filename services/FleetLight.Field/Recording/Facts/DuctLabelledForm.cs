using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Field.Recording.Forms;

namespace FleetLight.Field.Recording.Facts;

/// <summary>A duct was labelled: with the next label of the row.</summary>
internal sealed class DuctLabelledForm : FactForm<DuctLabelled>
{
    public override string Key => "duct-labelled";

    public override string Title => "Duct labelled";

    public override FormGroup Group => FormGroup.InTheGround;

    public override IReadOnlyList<FormField> Fields { get; } =
    [
        Ask<DuctLabelled>.Pick(nameof(DuctLabelled.DuctId), "Which duct", (context, _) => context.Ducts()) with { NoneSays = "No duct is recorded on this site yet." },
        Ask<DuctLabelled>.Text(nameof(DuctLabelled.Label), "What the label says"),
        Ask<DuctLabelled>.Words(nameof(DuctLabelled.End), "Which end") with { Hint = "Leave it open where both ends are labelled." },
    ];

    public override bool IsAbout(ThingKind kind) => kind == ThingKind.Duct;

    public override ThingRef? Shows(JsonObject data) => Text(data, "ductId") is { } id ? new(ThingKind.Duct, id) : null;

    public override void Begin(FormContext context, JsonObject data)
    {
        data["ductId"] = context.AboutId(ThingKind.Duct) ?? context.Site.Ducts.LastOrDefault(duct => duct.Labels is null or { Count: 0 })?.Id ?? context.NewestDuct()?.Id;
        data["label"] = LabelRow.Next(context.Site.Ducts.SelectMany(duct => duct.Labels?.Values ?? []));
    }
}

using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Field.Recording.Forms;
using FleetLight.Field.Sites;

namespace FleetLight.Field.Recording.Facts;

/// <summary>A box was sealed: one that the design or a joint names and that is not closed yet, or a new one.</summary>
internal sealed class BoxSealedForm : FactForm<BoxSealed>
{
    public override string Key => "box-sealed";

    public override string Title => "Box sealed";

    public override FormGroup Group => FormGroup.Usual;

    public override IReadOnlyList<string> Follows => ["joint-made", "cable-pulled", "reading-taken"];

    public override IReadOnlyList<FormField> Fields { get; } =
    [
        Ask<BoxSealed>.Pick(nameof(BoxSealed.BoxId), "Which box", Boxes),
        Ask<BoxSealed>.Text(nameof(BoxSealed.Label), "What it is called") with { Hint = "What stands on its label, or what crews will call it." },
        Ask<BoxSealed>.Words(nameof(BoxSealed.Lie), "How it lies"),
        Ask<BoxSealed>.Words(nameof(BoxSealed.Entry), "How cables enter"),
        Ask<BoxSealed>.YesNo(nameof(BoxSealed.StrainRelief), "Cables held against pull"),
        Ask<BoxSealed>.YesNo(nameof(BoxSealed.GelFilled), "Filled with gel"),
        Ask<BoxSealed>.YesNo(nameof(BoxSealed.Breathing), "It can breathe (vent, drain or gland for it)"),
        Ask<BoxSealed>.Position(),
    ];

    public override bool IsAbout(ThingKind kind) => kind == ThingKind.Box;

    public override ThingRef? Shows(JsonObject data) => Text(data, "boxId") is { } id ? new(ThingKind.Box, id) : null;

    public override void Begin(FormContext context, JsonObject data)
    {
        var box = context.AboutId(ThingKind.Box) ?? context.Site.Boxes.FirstOrDefault(each => each.SealedAt is null)?.Id;
        data["boxId"] = box ?? context.NewId(IdLetters.Of(ThingKind.Box));
        data["label"] = (box is null ? null : context.Works.BoxOf(box)?.Label) ?? LabelRow.Next(context.Site.Boxes.Select(each => each.Label ?? ""));
        data["lie"] = context.FromLast("lie") ?? Word(BoxLie.FlatInGround);
        data["entry"] = context.FromLast("entry") ?? Word(BoxEntry.Glands);
        data["strainRelief"] = context.FromLast("strainRelief");
        data["gelFilled"] = context.FromLast("gelFilled");
        data["breathing"] = context.FromLast("breathing");
    }

    public override JsonObject Remembered(JsonObject data)
    {
        var kept = base.Remembered(data);
        kept.Remove("position");
        return kept;
    }

    private static IReadOnlyList<Choice> Boxes(FormContext context, JsonObject data)
    {
        List<Choice> all = [
            .. context.Site.Boxes.OrderBy(box => box.SealedAt is not null)
                .Select(box => new Choice(box.Id, ThingNames.Of(box) + (box.SealedAt is null ? "" : ", opened and sealed again")))
        ];
        var chosen = Text(data, "boxId");
        all.Add(new Choice(chosen is not null && all.All(each => each.Word != chosen) ? chosen : context.NewId(IdLetters.Of(ThingKind.Box)), "A new box"));
        return all;
    }
}

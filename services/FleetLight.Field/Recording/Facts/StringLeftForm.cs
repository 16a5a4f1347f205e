using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Field.Recording.Forms;

namespace FleetLight.Field.Recording.Facts;

/// <summary>A draw string was left: in the newest duct that has none.</summary>
internal sealed class StringLeftForm : FactForm<StringLeft>
{
    public override string Key => "string-left";

    public override string Title => "String left";

    public override FormGroup Group => FormGroup.Usual;

    public override IReadOnlyList<string> Follows => ["duct-plugged", "duct-laid"];

    public override IReadOnlyList<FormField> Fields { get; } =
    [
        Ask<StringLeft>.Pick(nameof(StringLeft.DuctId), "In which duct", (context, _) => context.Ducts()) with { NoneSays = "No duct is recorded on this site yet." },
        Ask<StringLeft>.Words(nameof(StringLeft.Method), "How it got there"),
        Ask<StringLeft>.Number(nameof(StringLeft.LengthMetres), "Length of duct it runs through") with { Seldom = true, Hint = "Where it is not the whole duct." },
    ];

    public override bool IsAbout(ThingKind kind) => kind == ThingKind.Duct;

    public override ThingRef? Shows(JsonObject data) => Text(data, "ductId") is { } id ? new(ThingKind.Duct, id) : null;

    public override void Begin(FormContext context, JsonObject data)
    {
        data["ductId"] = context.AboutId(ThingKind.Duct) ?? context.NewestDuct()?.Id;
        data["method"] = context.FromLast("method") ?? Word(StringMethod.LaidIn);
    }
}

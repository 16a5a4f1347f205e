using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Field.Recording.Forms;

namespace FleetLight.Field.Recording.Facts;

/// <summary>An end of a duct was plugged: the end that is still open.</summary>
internal sealed class DuctPluggedForm : FactForm<DuctPlugged>
{
    public override string Key => "duct-plugged";

    public override string Title => "Duct plugged";

    public override FormGroup Group => FormGroup.InTheGround;

    public override IReadOnlyList<string> Follows => ["duct-plugged", "duct-labelled", "duct-laid"];

    public override IReadOnlyList<FormField> Fields { get; } =
    [
        Ask<DuctPlugged>.Pick(nameof(DuctPlugged.DuctId), "Which duct", (context, _) => context.Ducts()) with { NoneSays = "No duct is recorded on this site yet." },
        Ask<DuctPlugged>.Words(nameof(DuctPlugged.End), "Which end"),
        Ask<DuctPlugged>.Text(nameof(DuctPlugged.With), "With what"),
    ];

    public override bool IsAbout(ThingKind kind) => kind == ThingKind.Duct;

    public override ThingRef? Shows(JsonObject data) => Text(data, "ductId") is { } id ? new(ThingKind.Duct, id) : null;

    public override void Begin(FormContext context, JsonObject data)
    {
        var duct = context.AboutId(ThingKind.Duct) ?? context.NewestDuct()?.Id;
        data["ductId"] = duct;
        var plugged = duct is null ? [] : context.Works.DuctOf(duct)?.PluggedEnds ?? [];
        data["end"] = Word(plugged.Contains(RunEnd.Near) ? RunEnd.Far : RunEnd.Near);
        data["with"] = context.FromLast("with");
    }
}

using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Field.Recording.Forms;

namespace FleetLight.Field.Recording.Facts;

/// <summary>A core was sleeved: the next core that carries a circuit and has no sleeve at that end.</summary>
internal sealed class CoreSleevedForm : FactForm<CoreSleeved>
{
    public override string Key => "core-sleeved";

    public override string Title => "Core sleeved";

    public override FormGroup Group => FormGroup.InTheGround;

    public override IReadOnlyList<string> Follows => ["core-sleeved", "joint-made"];

    public override IReadOnlyList<FormField> Fields { get; } =
    [
        Ask<CoreSleeved>.Pick(nameof(CoreSleeved.CableId), "Which cable", (context, _) => context.Cables()) with
        {
            NoneSays = "No cable is recorded on this site yet.",
            Picked = Next,
        },
        Ask<CoreSleeved>.Pick(nameof(CoreSleeved.Core), "Which core", Cores) with { NoneSays = "The cores of this cable are not recorded." },
        Ask<CoreSleeved>.Words(nameof(CoreSleeved.End), "Which end"),
        Ask<CoreSleeved>.Words(nameof(CoreSleeved.Polarity), "What the sleeve says"),
    ];

    public override bool IsAbout(ThingKind kind) => kind == ThingKind.Cable;

    public override ThingRef? Shows(JsonObject data) => Text(data, "cableId") is { } id ? new(ThingKind.Cable, id) : null;

    public override void Begin(FormContext context, JsonObject data)
    {
        data["cableId"] = context.AboutId(ThingKind.Cable) ?? Text(context.Last ?? [], "cableId") ?? context.NewestCable()?.Id;
        data["end"] = context.FromLast("end") ?? Word(RunEnd.Near);
        Next(context, data);
    }

    private static void Next(FormContext context, JsonObject data)
    {
        var carrying = (context.Works.CableOf(Text(data, "cableId") ?? "")?.Cores ?? []).Where(core => core.Use == CoreUse.Circuit).ToArray();
        var end = Text(data, "end") == Word(RunEnd.Far) ? RunEnd.Far : RunEnd.Near;
        var next = carrying.FirstOrDefault(core => !core.Sleeves.ContainsKey(end)) ?? carrying.FirstOrDefault();
        data["core"] = next?.Core;
        var other = next?.Sleeves.Values.Cast<CorePolarity?>().FirstOrDefault();
        var taken = carrying.Any(core => core != next && core.Sleeves.GetValueOrDefault(end, CorePolarity.SeriesLink) == CorePolarity.Positive);
        data["polarity"] = Word(other ?? (taken ? CorePolarity.Negative : CorePolarity.Positive));
    }

    private static IReadOnlyList<Choice> Cores(FormContext context, JsonObject data) =>
        [.. (context.Works.CableOf(Text(data, "cableId") ?? "")?.Cores ?? []).Select(core => new Choice(core.Core, core.Core))];
}

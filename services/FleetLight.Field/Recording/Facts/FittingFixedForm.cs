using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Field.Recording.Forms;

namespace FleetLight.Field.Recording.Facts;

/// <summary>A fitting was fixed: the next one of the circuit that is not.</summary>
internal sealed class FittingFixedForm : FactForm<FittingFixed>
{
    public override string Key => "fitting-fixed";

    public override string Title => "Fitting fixed";

    public override FormGroup Group => FormGroup.Usual;

    public override IReadOnlyList<string> Follows => ["fitting-fixed", "joint-made", "driver-connected"];

    public override IReadOnlyList<FormField> Fields { get; } =
    [
        Ask<FittingFixed>.Pick(nameof(FittingFixed.CircuitId), "Which circuit", (context, _) => context.Circuits()) with
        {
            NoneSays = "No circuit is designed on this site yet.",
            Picked = (context, data) => data["fittingId"] = NextOf(context, Text(data, "circuitId")),
        },
        Ask<FittingFixed>.Pick(nameof(FittingFixed.FittingId), "Which fitting", (context, data) => context.Fittings(Text(data, "circuitId")))
            with { NoneSays = "Choose the circuit first." },
        Ask<FittingFixed>.Number(nameof(FittingFixed.RatedWatts), "Watts on its plate") with { Hint = "Where you read it. It then counts in place of the designed one." },
        Ask<FittingFixed>.Position(),
    ];

    public override bool IsAbout(ThingKind kind) => kind == ThingKind.Circuit;

    public override ThingRef? Shows(JsonObject data) => Text(data, "circuitId") is { } id ? new(ThingKind.Circuit, id) : null;

    public override void Begin(FormContext context, JsonObject data)
    {
        data["circuitId"] = context.CircuitToBegin();
        data["fittingId"] = NextOf(context, Text(data, "circuitId"));
    }

    // What is fixed stands in the circuit's own facts; judging the circuit to learn that would take long on a phone.
    private static string? NextOf(FormContext context, string? circuitId)
    {
        if (context.Design(circuitId) is not { } design) return null;
        var done = Record.Corrections.EffectiveFacts.Of(context.Works.FileOf(new(ThingKind.Circuit, circuitId!))).Facts
            .Select(fact => fact.CountingData).OfType<FittingFixed>().Select(each => each.FittingId).ToHashSet(StringComparer.Ordinal);
        return design.Fittings.FirstOrDefault(fitting => !done.Contains(fitting.FittingId))?.FittingId;
    }
}

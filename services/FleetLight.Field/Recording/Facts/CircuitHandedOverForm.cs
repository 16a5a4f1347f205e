using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Field.Recording.Forms;

namespace FleetLight.Field.Recording.Facts;

/// <summary>A circuit was handed over to its owner.</summary>
internal sealed class CircuitHandedOverForm : FactForm<CircuitHandedOver>
{
    public override string Key => "circuit-handed-over";

    public override string Title => "Handed over";

    public override FormGroup Group => FormGroup.Circuits;

    public override IReadOnlyList<FormField> Fields { get; } =
    [
        Ask<CircuitHandedOver>.Pick(nameof(CircuitHandedOver.CircuitId), "Which circuit", (context, _) => context.Circuits())
            with { NoneSays = "No circuit is designed on this site yet." },
        Ask<CircuitHandedOver>.Text(nameof(CircuitHandedOver.Note), "What was said") with { Lines = true },
    ];

    public override bool IsAbout(ThingKind kind) => kind == ThingKind.Circuit;

    public override ThingRef? Shows(JsonObject data) => Text(data, "circuitId") is { } id ? new(ThingKind.Circuit, id) : null;

    public override void Begin(FormContext context, JsonObject data) => data["circuitId"] = context.CircuitToBegin();
}

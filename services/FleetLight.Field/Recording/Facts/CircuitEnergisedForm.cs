using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Field.Recording.Forms;

namespace FleetLight.Field.Recording.Facts;

/// <summary>A circuit was energised: which fittings stayed dark.</summary>
internal sealed class CircuitEnergisedForm : FactForm<CircuitEnergised>
{
    public override string Key => "circuit-energised";

    public override string Title => "Circuit energised";

    public override FormGroup Group => FormGroup.Circuits;

    public override IReadOnlyList<string> Follows => ["reading-taken", "circuit-handed-over"];

    public override IReadOnlyList<FormField> Fields { get; } =
    [
        Ask<CircuitEnergised>.Pick(nameof(CircuitEnergised.CircuitId), "Which circuit", (context, _) => context.Circuits())
            with { NoneSays = "No circuit is designed on this site yet." },
        Ask<CircuitEnergised>.PickMany(nameof(CircuitEnergised.UnlitFittingIds), "Which fittings do not light", (context, data) => context.Fittings(Text(data, "circuitId")))
            with { Hint = "None where all of them light.", NoneSays = "Choose the circuit first." },
    ];

    public override IReadOnlyList<Caution> Cautions(JsonObject data) => [Caution.Energised];

    public override bool IsAbout(ThingKind kind) => kind == ThingKind.Circuit;

    public override ThingRef? Shows(JsonObject data) => Text(data, "circuitId") is { } id ? new(ThingKind.Circuit, id) : null;

    public override void Begin(FormContext context, JsonObject data) => data["circuitId"] = context.CircuitToBegin();
}

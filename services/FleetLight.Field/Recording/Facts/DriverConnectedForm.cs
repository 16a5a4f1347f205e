using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Field.Recording.Forms;

namespace FleetLight.Field.Recording.Facts;

/// <summary>A driver was connected to its circuit.</summary>
internal sealed class DriverConnectedForm : FactForm<DriverConnected>
{
    public override string Key => "driver-connected";

    public override string Title => "Driver connected";

    public override FormGroup Group => FormGroup.Circuits;

    public override IReadOnlyList<string> Follows => ["circuit-energised", "reading-taken"];

    public override IReadOnlyList<FormField> Fields { get; } =
    [
        Ask<DriverConnected>.Pick(nameof(DriverConnected.CircuitId), "Which circuit", (context, _) => context.Circuits())
            with { NoneSays = "No circuit is designed on this site yet." },
        Ask<DriverConnected>.Text(nameof(DriverConnected.At), "Where the driver is"),
        Ask<DriverConnected>.Position(),
    ];

    public override IReadOnlyList<Caution> Cautions(JsonObject data) => [Caution.Mains];

    public override bool IsAbout(ThingKind kind) => kind == ThingKind.Circuit;

    public override ThingRef? Shows(JsonObject data) => Text(data, "circuitId") is { } id ? new(ThingKind.Circuit, id) : null;

    public override void Begin(FormContext context, JsonObject data) => data["circuitId"] = context.CircuitToBegin();
}

using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Field.Recording.Forms;

namespace FleetLight.Field.Recording.Facts;

/// <summary>A fault was reported.</summary>
internal sealed class FaultReportedForm : FactForm<FaultReported>
{
    public override string Key => "fault-reported";

    public override string Title => "Fault seen";

    public override FormGroup Group => FormGroup.Faults;

    public override IReadOnlyList<string> Follows => ["repair-made", "reading-taken"];

    public override IReadOnlyList<FormField> Fields { get; } =
    [
        Ask<FaultReported>.Pick(nameof(FaultReported.CircuitId), "On which circuit", (context, _) => context.Circuits())
            with { NoneSays = "No circuit is designed on this site yet." },
        Ask<FaultReported>.Text(nameof(FaultReported.What), "What you saw") with { Lines = true },
    ];

    public override bool IsAbout(ThingKind kind) => kind == ThingKind.Circuit;

    public override ThingRef? Shows(JsonObject data) => Text(data, "circuitId") is { } id ? new(ThingKind.Circuit, id) : null;

    public override void Begin(FormContext context, JsonObject data)
    {
        data["circuitId"] = context.CircuitToBegin();
        data["faultId"] = context.NewId("f");
    }
}

using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Field.Recording.Forms;
using FleetLight.Record.Corrections;

namespace FleetLight.Field.Recording.Facts;

/// <summary>A repair was made: which of the faults that are open it mends.</summary>
internal sealed class RepairMadeForm : FactForm<RepairMade>
{
    public override string Key => "repair-made";

    public override string Title => "Repair made";

    public override FormGroup Group => FormGroup.Faults;

    public override IReadOnlyList<string> Follows => ["reading-taken", "box-sealed"];

    public override IReadOnlyList<FormField> Fields { get; } =
    [
        Ask<RepairMade>.Pick(nameof(RepairMade.CircuitId), "On which circuit", (context, _) => context.Circuits()) with { NoneSays = "No circuit is designed on this site yet." },
        Ask<RepairMade>.Text(nameof(RepairMade.What), "What you did") with { Lines = true },
        Ask<RepairMade>.PickMany(nameof(RepairMade.FaultIds), "Which faults it mends", (context, data) => Open(context, Text(data, "circuitId")))
            with { NoneSays = "No fault is open on this circuit." },
    ];

    public override IReadOnlyList<Caution> Cautions(JsonObject data) => [new("Dead first", "Isolate the circuit and prove dead before anything is opened.")];

    public override bool IsAbout(ThingKind kind) => kind == ThingKind.Circuit;

    public override ThingRef? Shows(JsonObject data) => Text(data, "circuitId") is { } id ? new(ThingKind.Circuit, id) : null;

    public override void Begin(FormContext context, JsonObject data)
    {
        data["circuitId"] = context.CircuitToBegin();
        if (Open(context, Text(data, "circuitId")) is [var only]) data["faultIds"] = new JsonArray(only.Word);
    }

    private static IReadOnlyList<Choice> Open(FormContext context, string? circuitId)
    {
        if (circuitId is null) return [];
        var facts = EffectiveFacts.Of(context.Works.FileOf(new(ThingKind.Circuit, circuitId))).Facts.Select(fact => fact.CountingData).ToArray();
        var mended = facts.OfType<RepairMade>().SelectMany(repair => repair.FaultIds ?? []).ToHashSet(StringComparer.Ordinal);
        return [.. facts.OfType<FaultReported>().Where(fault => !mended.Contains(fault.FaultId)).Select(fault => new Choice(fault.FaultId, fault.What))];
    }
}

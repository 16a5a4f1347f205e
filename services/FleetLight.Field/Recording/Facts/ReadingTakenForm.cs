using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Field.Recording.Forms;

namespace FleetLight.Field.Recording.Facts;

/// <summary>A reading was taken: at the driver, in volts, where nothing else was said last.</summary>
internal sealed class ReadingTakenForm : FactForm<ReadingTaken>
{
    public override string Key => "reading-taken";

    public override string Title => "Reading taken";

    public override FormGroup Group => FormGroup.Usual;

    public override IReadOnlyList<string> Follows => ["reading-taken", "circuit-energised", "circuit-handed-over"];

    public override IReadOnlyList<FormField> Fields { get; } =
    [
        Ask<ReadingTaken>.Pick(nameof(ReadingTaken.CircuitId), "Which circuit", (context, _) => context.Circuits()) with { NoneSays = "No circuit is designed on this site yet." },
        Ask<ReadingTaken>.Number(nameof(ReadingTaken.Value), "Reading") with
        {
            UnitOf = data => Text(data, "quantity") switch { "milliamps" => "mA", "loop-ohms" => "Ω", _ => "V" },
        },
        Ask<ReadingTaken>.Words(nameof(ReadingTaken.Quantity), "What was measured"),
        Ask<ReadingTaken>.Words(nameof(ReadingTaken.Place), "Where"),
        Ask<ReadingTaken>.Pick(nameof(ReadingTaken.PlaceId), "At which", Places) with
        {
            MayBeEmpty = false,
            Shown = (_, data) => Text(data, "place") is "box" or "fitting",
        },
        Ask<ReadingTaken>.Text(nameof(ReadingTaken.MeterName), "Which meter") with { Seldom = true, Hint = "The name or number that the crews know it by." },
    ];

    public override IReadOnlyList<Caution> Cautions(JsonObject data) =>
        Text(data, "quantity") == Word(ReadingQuantity.LoopOhms)
            ? [new Caution("Loop resistance", "Driver off and disconnected, far end joined. Prove dead before the meter goes on.")]
            : [Caution.Energised];

    public override bool IsAbout(ThingKind kind) => kind is ThingKind.Circuit or ThingKind.Box;

    public override ThingRef? Shows(JsonObject data) => Text(data, "circuitId") is { } id ? new(ThingKind.Circuit, id) : null;

    public override void Begin(FormContext context, JsonObject data)
    {
        var box = context.AboutId(ThingKind.Box);
        data["circuitId"] = context.CircuitToBegin() ?? (box is not null && context.Works.BoxOf(box)?.Joints is [var joint, ..] ? joint.CircuitId : null);
        data["quantity"] = context.FromLast("quantity") ?? Word(ReadingQuantity.VoltsDc);
        data["place"] = box is null ? Word(ReadingPlaceKind.Driver) : Word(ReadingPlaceKind.Box);
        data["placeId"] = box;
        data["meterName"] = context.FromLast("meterName");
    }

    private static IReadOnlyList<Choice> Places(FormContext context, JsonObject data) =>
        Text(data, "place") == Word(ReadingPlaceKind.Box) ? context.Boxes() : context.Fittings(Text(data, "circuitId"));
}

using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Field.Recording.Forms;

namespace FleetLight.Field.Recording.Facts;

/// <summary>A test was made: only the figures of its kind are asked.</summary>
internal sealed class TestMadeForm : FactForm<TestMade>
{
    public override string Key => "test-made";

    public override string Title => "Test made";

    public override FormGroup Group => FormGroup.Circuits;

    public override IReadOnlyList<string> Follows => ["test-made", "circuit-energised"];

    public override IReadOnlyList<FormField> Fields { get; } =
    [
        Ask<TestMade>.Pick(nameof(TestMade.CircuitId), "Which circuit", (context, _) => context.Circuits()) with { NoneSays = "No circuit is designed on this site yet." },
        Ask<TestMade>.Words(nameof(TestMade.Test), "Which test"),
        Ask<TestMade>.Number(nameof(TestMade.Megohms), "Insulation resistance") with { Shown = Is(TestKind.InsulationResistance), MayBeEmpty = false },
        Ask<TestMade>.Number(nameof(TestMade.NominalVolts), "Nominal voltage of the circuit") with { Shown = Is(TestKind.InsulationResistance), MayBeEmpty = false },
        Ask<TestMade>.Number(nameof(TestMade.TestVolts), "Test voltage, DC") with { Shown = Is(TestKind.InsulationResistance) },
        Ask<TestMade>.Number(nameof(TestMade.Ohms), "Resistance") with { Shown = Is(TestKind.Continuity), MayBeEmpty = false },
        Ask<TestMade>.YesNo(nameof(TestMade.PolarityRight), "The polarity was right") with { Shown = Is(TestKind.Polarity), MayBeEmpty = false },
        Ask<TestMade>.Number(nameof(TestMade.TripMilliseconds), "Trip time") with { Shown = Is(TestKind.ResidualCurrentDevice), MayBeEmpty = false },
        Ask<TestMade>.Number(nameof(TestMade.RatedResidualMilliamps), "Rated residual current") with { Shown = Is(TestKind.ResidualCurrentDevice), MayBeEmpty = false },
        Ask<TestMade>.Number(nameof(TestMade.CurrentMultiple), "Test current, times the rated one") with { Shown = Is(TestKind.ResidualCurrentDevice) },
        Ask<TestMade>.Words(nameof(TestMade.DeviceType), "Type of device") with { Shown = Is(TestKind.ResidualCurrentDevice), Seldom = true },
        Ask<TestMade>.YesNo(nameof(TestMade.MainsSide), "On the mains side") with { MayBeEmpty = true },
        Ask<TestMade>.Text(nameof(TestMade.MeterName), "Which tester") with { Seldom = true },
    ];

    public override IReadOnlyList<Caution> Cautions(JsonObject data) =>
        data["mainsSide"] is JsonValue value && value.TryGetValue<bool>(out var mains) && mains || Text(data, "test") == Word(TestKind.ResidualCurrentDevice)
            ? [Caution.Mains]
            : [new("Dead tests", "Isolate and prove dead first. Take drivers and electronics off before an insulation test.")];

    public override bool IsAbout(ThingKind kind) => kind == ThingKind.Circuit;

    public override ThingRef? Shows(JsonObject data) => Text(data, "circuitId") is { } id ? new(ThingKind.Circuit, id) : null;

    public override void Begin(FormContext context, JsonObject data)
    {
        data["circuitId"] = context.CircuitToBegin();
        data["test"] = context.FromLast("test") ?? Word(TestKind.InsulationResistance);
        foreach (var name in (string[])["nominalVolts", "testVolts", "ratedResidualMilliamps", "currentMultiple", "deviceType", "meterName", "mainsSide"])
            data[name] = context.FromLast(name);
    }

    private static Func<FormContext, JsonObject, bool> Is(TestKind kind) => (_, data) => Text(data, "test") == Word(kind);
}

using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Field.Recording.Forms;
using FleetLight.PageParts.Wording;

namespace FleetLight.Field.Recording.Facts;

/// <summary>The place of a thing was measured: by tapes from reference points, or by the phone.</summary>
internal sealed class PlaceMeasuredForm : FactForm<PlaceMeasured>
{
    private static readonly ThingKind[] Kinds = [ThingKind.Box, ThingKind.Duct, ThingKind.Cable, ThingKind.Circuit];

    public override string Key => "place-measured";

    public override string Title => "Place measured";

    public override FormGroup Group => FormGroup.InTheGround;

    public override IReadOnlyList<string> Follows => ["place-measured", "reference-point"];

    public override IReadOnlyList<FormField> Fields { get; } =
    [
        new ChoiceField("kind", "Of what", [.. Kinds.Select(kind => new Choice(Word(kind), kind == ThingKind.Circuit ? "driver or fitting" : PlainWords.InSentence(kind)))])
        {
            IsGiven = context => context.About is not null,
        },
        Ask<PlaceMeasured>.Pick(nameof(PlaceMeasured.ThingId), "Which one", Things) with
        {
            Picked = (_, data) => data["fittingId"] = null,
            IsGiven = context => context.About is not null,
        },
        Ask<PlaceMeasured>.Pick(nameof(PlaceMeasured.FittingId), "Which fitting; leave it open for the driver", (context, data) => context.Fittings(Text(data, "thingId"))) with
        {
            NoneSays = "Choose the circuit first.",
            Shown = (_, data) => Is(data, ThingKind.Circuit),
        },
        Ask<PlaceMeasured>.Words(nameof(PlaceMeasured.End), "Which end") with { Shown = (_, data) => Is(data, ThingKind.Duct) || Is(data, ThingKind.Cable) },
        Ask<PlaceMeasured>.Number(nameof(PlaceMeasured.ChainageMetres), "Or a point between: so far from the near end") with { Shown = (_, data) => Is(data, ThingKind.Duct) },
        PlaceParts.Tapes("Tapes from reference points"),
        PlaceParts.Side,
        Ask<PlaceMeasured>.Position() with { Hint = "Beside tapes it only tells the side." },
        PlaceParts.Offset,
        Ask<PlaceMeasured>.Text(nameof(PlaceMeasured.Note), "Anything that helps to find it") with { Seldom = true },
    ];

    public override IReadOnlyList<Caution> Cautions(JsonObject data) => [Caution.Digging];

    public override bool IsAbout(ThingKind kind) => kind != ThingKind.Site;

    public override ThingRef? Shows(JsonObject data) => Text(data, "thingId") is { } id && KindOf(data) is { } kind ? new(kind, id) : null;

    public override void Begin(FormContext context, JsonObject data)
    {
        var about = context.About is { Kind: not ThingKind.Site } thing ? thing : null;
        data["kind"] = about is null ? context.FromLast("kind") ?? Word(ThingKind.Box) : Word(about.Kind);
        data["thingId"] = about?.Id;
    }

    public override JsonObject Remembered(JsonObject data) => new()
    {
        ["kind"] = data["kind"]?.DeepClone(),
        ["tapedFrom"] = new JsonArray([.. (data["tapes"] as JsonArray ?? []).Select(tape => tape?["from"]?.DeepClone()).OfType<JsonNode>()]),
    };

    private static IReadOnlyList<Choice> Things(FormContext context, JsonObject data) => KindOf(data) switch
    {
        ThingKind.Duct => context.Ducts(),
        ThingKind.Cable => context.Cables(),
        ThingKind.Box => context.Boxes(),
        ThingKind.Circuit => context.Circuits(),
        _ => [],
    };

    private static bool Is(JsonObject data, ThingKind kind) => KindOf(data) == kind;

    private static ThingKind? KindOf(JsonObject data)
    {
        var word = Text(data, "kind");
        foreach (var kind in Kinds)
            if (Word(kind) == word) return kind;
        return null;
    }
}

using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Field.Recording.Forms;

namespace FleetLight.Field.Recording.Facts;

/// <summary>Two records turned out to be of one thing.</summary>
internal sealed class ThingsJoinedForm : FactForm<ThingsJoined>
{
    public override string Key => "things-joined";

    public override string Title => "Recorded twice";

    public override FormGroup Group => FormGroup.PutRight;

    public override IReadOnlyList<FormField> Fields { get; } =
    [
        new ChoiceField("kind", "What was recorded twice", [new("duct", "a duct"), new("cable", "a cable"), new("box", "a box")]),
        Ask<ThingsJoined>.Pick(nameof(ThingsJoined.KeptId), "This one stays", Things),
        Ask<ThingsJoined>.Pick(nameof(ThingsJoined.SameId), "This is the same thing", Things),
    ];

    public override bool IsAbout(ThingKind kind) => kind is ThingKind.Duct or ThingKind.Cable or ThingKind.Box;

    public override ThingRef? Shows(JsonObject data) => Text(data, "keptId") is { } id && KindOf(data) is { } kind ? new(kind, id) : null;

    public override void Begin(FormContext context, JsonObject data)
    {
        data["kind"] = Word(context.About?.Kind is { } kind && IsAbout(kind) ? kind : ThingKind.Box);
        data["keptId"] = context.About is { } about && IsAbout(about.Kind) ? about.Id : null;
    }

    private static ThingKind? KindOf(JsonObject data) => Text(data, "kind") switch
    {
        "duct" => ThingKind.Duct,
        "cable" => ThingKind.Cable,
        "box" => ThingKind.Box,
        _ => null,
    };

    private static IReadOnlyList<Choice> Things(FormContext context, JsonObject data) => KindOf(data) switch
    {
        ThingKind.Duct => context.Ducts(),
        ThingKind.Cable => context.Cables(),
        ThingKind.Box => context.Boxes(),
        _ => [],
    };
}

using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Field.Recording.Forms;
using FleetLight.Field.Sites;

namespace FleetLight.Field.Recording.Facts;

/// <summary>
/// A cable was pulled: the design's next run that has no cable yet says which and how long; else it is like the last one, through the
/// duct with a string that was laid last.
/// </summary>
internal sealed class CablePulledForm : FactForm<CablePulled>
{
    // Common practice, no source: flexible 1.5 mm² is what garden circuits are mostly run with.
    private const double UsualAreaSquareMillimetres = 1.5;

    public override string Key => "cable-pulled";

    public override string Title => "Cable pulled";

    public override FormGroup Group => FormGroup.Usual;

    public override string AsksForLabel => "Label put on it";

    public override IReadOnlyList<string> Follows => ["string-left", "core-sleeved", "duct-plugged", "box-sealed"];

    public override IReadOnlyList<FormField> Fields { get; } =
    [
        Ask<CablePulled>.Pick(nameof(CablePulled.CableId), "Which cable", Cables) with { Picked = FromDesign },
        Ask<CablePulled>.Number(nameof(CablePulled.LengthMetres), "Length pulled"),
        Ask<CablePulled>.PickMany(nameof(CablePulled.DuctIds), "Through which ducts", (context, _) => context.Ducts())
            with { NoneSays = "No duct is recorded on this site: it lies in none.", Hint = "From the supply on. None where it lies in no duct." },
        Ask<CablePulled>.Number(nameof(CablePulled.AreaSquareMillimetres), "Conductor area"),
        Ask<CablePulled>.Words(nameof(CablePulled.ConductorClass), "Conductors"),
        new CoresField("cores", "Cores")
        {
            Parts =
            [
                new TextField("core", "Its colour or number", 32) { MayBeEmpty = true }, new TextField("use", "What it is used for", 32) { MayBeEmpty = true },
                new TextField("circuitId", "What it is used for", 64) { MayBeEmpty = true },
            ],
        },
        Ask<CablePulled>.Number(nameof(CablePulled.OutsideDiameterMillimetres), "Outside diameter") with { Seldom = true, Hint = "With it the record tells how full a duct is." },
    ];

    public override ThingRef? Shows(JsonObject data) => Text(data, "cableId") is { } id ? new(ThingKind.Cable, id) : null;

    public override bool IsAbout(ThingKind kind) => kind is ThingKind.Duct or ThingKind.Circuit;

    public override void Begin(FormContext context, JsonObject data)
    {
        var circuit = context.AboutId(ThingKind.Circuit);
        var due = Due(context).Where(each => circuit is null || each.Design.CircuitId == circuit).Select(each => each.Run).FirstOrDefault();
        var duct = context.AboutId(ThingKind.Duct) ?? context.Site.Ducts.Where(each => each.StringInside && each.CableIds.Count == 0).MaxBy(each => each.Facts[^1].HappenedAt)?.Id;
        data["cableId"] = due?.CableId ?? context.NewId(IdLetters.Of(ThingKind.Cable));
        data["ductIds"] = duct is null ? new JsonArray() : new JsonArray(duct);
        data["areaSquareMillimetres"] = context.FromLast("areaSquareMillimetres") ?? UsualAreaSquareMillimetres;
        data["conductorClass"] = context.FromLast("conductorClass") ?? Word(ConductorClass.Class5);
        data["outsideDiameterMillimetres"] = context.FromLast("outsideDiameterMillimetres");
        data["cores"] = context.FromLast("cores") ?? CoreSets.Make(2, circuit ?? context.CircuitToBegin());
        if (due is not null) FromDesign(context, data);
    }

    public override IReadOnlyList<IFact> Besides(FormContext context, JsonObject data, string label) =>
        label.Length == 0 ? [] : [new CableLabelled { SiteId = context.SiteId, CableId = Text(data, "cableId")!, Label = label }];

    // Those that the design waits for first, then any that is recorded (pulled again), then a new one.
    private static IReadOnlyList<Choice> Cables(FormContext context, JsonObject data)
    {
        var due = Due(context).Select(each => new Choice(each.Run.CableId!, $"{each.Design.Name}: {each.Run.CableId}, {each.Run.From} to {each.Run.To}"));
        var pulled = context.Site.Cables.Where(cable => cable.PulledAt is not null).Select(cable => new Choice(cable.Id, $"{ThingNames.Of(cable)}, pulled again"));
        var chosen = Text(data, "cableId");
        List<Choice> all = [.. due, .. pulled];
        var fresh = chosen is not null && all.All(each => each.Word != chosen) ? chosen : context.NewId(IdLetters.Of(ThingKind.Cable));
        all.Add(new Choice(fresh, "A cable not in the design"));
        return all;
    }

    private static IEnumerable<(CircuitDesigned Design, RunDesign Run)> Due(FormContext context) =>
        from design in context.Site.Designs
        from run in design.Runs
        where run.CableId is { } id && context.Works.CableOf(id)?.PulledAt is null
        select (design, run);

    private static void FromDesign(FormContext context, JsonObject data)
    {
        var found = Due(context).FirstOrDefault(each => each.Run.CableId == Text(data, "cableId"));
        if (found.Run is not { } run) return;
        data["lengthMetres"] = run.LengthMetres;
        data["areaSquareMillimetres"] = run.AreaSquareMillimetres;
        data["conductorClass"] = Word(run.ConductorClass);
        data["cores"] = CoreSets.Make(Math.Max(2, data["cores"] is JsonArray { Count: var count } ? count : 2), found.Design.CircuitId);
    }
}

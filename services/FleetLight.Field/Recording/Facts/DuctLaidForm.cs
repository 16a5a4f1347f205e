using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Field.Recording.Forms;

namespace FleetLight.Field.Recording.Facts;

/// <summary>A duct was laid: the length is asked; the rest is as the last one was, or as the job calls for.</summary>
internal sealed class DuctLaidForm : FactForm<DuctLaid>
{
    // Common practice, no source: what most garden jobs lay.
    private const double UsualBoreMillimetres = 50;

    public override string Key => "duct-laid";

    public override string Title => "Duct laid";

    public override FormGroup Group => FormGroup.Usual;

    public override string AsksForLabel => "Label put on it";

    public override IReadOnlyList<string> Follows => ["string-left", "duct-plugged", "cable-pulled"];

    public override IReadOnlyList<FormField> Fields { get; } =
    [
        Ask<DuctLaid>.Number(nameof(DuctLaid.LengthMetres), "Length"),
        Ask<DuctLaid>.Number(nameof(DuctLaid.DepthMillimetres), "Depth of cover") with { Hint = "From the top of the duct to the finished surface." },
        Ask<DuctLaid>.Words(nameof(DuctLaid.Service), "For what"),
        Ask<DuctLaid>.Words(nameof(DuctLaid.Colour), "Colour as seen"),
        Ask<DuctLaid>.Words(nameof(DuctLaid.Wall), "Wall"),
        Ask<DuctLaid>.Number(nameof(DuctLaid.BoreMillimetres), "Bore (inside diameter)"),
        Ask<DuctLaid>.Text(nameof(DuctLaid.NearEndAt), "Near end comes up at"),
        Ask<DuctLaid>.Text(nameof(DuctLaid.FarEndAt), "Far end comes up at"),
        Ask<DuctLaid>.Number(nameof(DuctLaid.BendsDegrees), "Bends together") with { Seldom = true, Hint = "Add the angles: two right angles are 180." },
    ];

    public override IReadOnlyList<Caution> Cautions(JsonObject data) =>
        Text(data, "service") == Word(DuctService.MainsSupply) ? [Caution.Digging, Caution.Mains] : [Caution.Digging];

    public override ThingRef? Shows(JsonObject data) => Text(data, "ductId") is { } id ? new(ThingKind.Duct, id) : null;

    public override void Begin(FormContext context, JsonObject data)
    {
        data["ductId"] = context.NewId(IdLetters.Of(ThingKind.Duct));
        data["service"] = context.FromLast("service") ?? Word(DuctService.LightingExtraLowVoltage);
        var call = context.Works.SiteOf(context.SiteId)?.DuctCalls?.FirstOrDefault(each => Word(each.Service) == Text(data, "service"));
        data["colour"] = context.FromLast("colour") ?? Word(call?.Colour ?? DuctColour.Black);
        data["wall"] = context.FromLast("wall") ?? Word(call?.Wall ?? DuctWall.TwinWall);
        data["boreMillimetres"] = context.FromLast("boreMillimetres") ?? UsualBoreMillimetres;
        data["depthMillimetres"] = context.FromLast("depthMillimetres");
        // Crews lay on from where the last one ended.
        data["nearEndAt"] = context.FromLast("farEndAt");
    }

    public override IReadOnlyList<IFact> Besides(FormContext context, JsonObject data, string label) =>
        label.Length == 0 ? [] : [new DuctLabelled { SiteId = context.SiteId, DuctId = Text(data, "ductId")!, Label = label }];
}

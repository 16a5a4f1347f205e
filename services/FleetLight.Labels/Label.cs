using FleetLight.Labels.Drawing;

namespace FleetLight.Labels;

/// <summary>A label as it is printed.</summary>
/// <param name="Text">What it says.</param>
/// <param name="Drawing">How it looks, mm.</param>
/// <param name="Address">What its QR code says; none where it has no code.</param>
/// <param name="ModuleMillimetres">Side of a module of the code, mm; none where it has no code.</param>
/// <param name="Notes">What to know of it, in plain words: why it has no code, what of its text had no room.</param>
public sealed record Label(LabelText Text, LabelDrawing Drawing, string? Address, double? ModuleMillimetres, IReadOnlyList<string> Notes)
{
    /// <summary>What it is and says, as one text.</summary>
    public string Says => string.Join(", ", [$"{LabelText.Word(Text.Kind)} {Text.Id}", Text.Title, .. Text.Lines]);

    /// <summary>The label as an SVG document in its true size.</summary>
    public string ToSvg() => SvgText.Of(Drawing, Text.Title, Says);
}

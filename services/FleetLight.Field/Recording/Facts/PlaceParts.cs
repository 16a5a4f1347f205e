using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Field.Recording.Forms;

namespace FleetLight.Field.Recording.Facts;

/// <summary>What places are told by: tapes, an offset from a line, figures of the site's own plan. Pure.</summary>
internal static class PlaceParts
{
    // In one word each: from where one looks stands below.
    private static IReadOnlyList<Choice> Sides =>
        [new(Ask<BaselineOffset>.Word(SideOfLine.Left), "left"), new(Ask<BaselineOffset>.Word(SideOfLine.Right), "right")];

    /// <summary>Tapes from reference points. What is seldom told of a tape is folded away.</summary>
    public static TapesField Tapes(string label) => new("tapes", label)
    {
        MayBeEmpty = true,
        Parts =
        [
            Ask<Tape>.Pick(nameof(Tape.From), "From which point", (context, data) => OthersThan(context, data["pointId"])),
            Ask<Tape>.Number(nameof(Tape.DistanceMetres), "Distance to it"),
            Ask<Tape>.Number(nameof(Tape.RiseMetres), "It lies higher than the point by") with
            {
                Seldom = true,
                Hint = "Where the tape ran aslope. Minus where it lies lower.",
            },
            Ask<Tape>.Number(nameof(Tape.AccuracyMetres), "The tape may be off by") with { Seldom = true, Hint = "Left open: 0.05 m and 0.3 % of the distance." },
        ],
    };

    /// <summary>The side of the line between the first two points of the tapes.</summary>
    public static ChoiceField Side { get; } = new("side", "On which side of the line between the first two points", Sides)
    {
        MayBeEmpty = true,
        Shown = (_, data) => data["tapes"] is JsonArray { Count: > 1 },
        Hint = "Stand at the first point and look to the second.",
    };

    /// <summary>An offset from a line between two reference points.</summary>
    public static PartsField Offset { get; } = new("offset", "By an offset from a line between two points")
    {
        MayBeEmpty = true,
        Seldom = true,
        Hint = "Instead of tapes and position: each is a fact of its own.",
        Parts =
        [
            Ask<BaselineOffset>.Pick(nameof(BaselineOffset.From), "The line begins at", (context, data) => OthersThan(context, data["pointId"])),
            Ask<BaselineOffset>.Pick(nameof(BaselineOffset.To), "It runs towards", (context, data) => OthersThan(context, data["pointId"], data["offset"]?["from"])),
            Ask<BaselineOffset>.Number(nameof(BaselineOffset.AlongMetres), "So far along the line") with { Hint = "Minus where it lies behind the beginning." },
            Ask<BaselineOffset>.Number(nameof(BaselineOffset.SquareMetres), "So far square from the line"),
            new ChoiceField("side", "On which side of it", Sides) { Hint = "Stand at the beginning and look along it." },
            Ask<BaselineOffset>.Number(nameof(BaselineOffset.AccuracyMetres), "Each may be off by") with { Hint = "Left open: 0.1 m and 1 % of the distance." },
        ],
    };

    /// <summary>A place on the site's own plan.</summary>
    public static PartsField Local { get; } = new("local", "Where it is on the site's own plan")
    {
        MayBeEmpty = true,
        Seldom = true,
        Hint = "Figures of a drawing that is tied to no map.",
        Parts =
        [
            Ask<LocalPoint>.Number(nameof(LocalPoint.XMetres), "To the right"),
            Ask<LocalPoint>.Number(nameof(LocalPoint.YMetres), "Upwards"),
            Ask<LocalPoint>.Number(nameof(LocalPoint.AccuracyMetres), "It may be off by") with { Hint = "Left open: 0.05 m." },
        ],
    };

    // Nothing is measured from itself, nor along a line that ends where it begins.
    private static IReadOnlyList<Choice> OthersThan(FormContext context, params JsonNode?[] ids)
    {
        var left = ids.OfType<JsonNode>().Select(id => id.GetValue<string>()).ToHashSet();
        return [.. context.ReferencePoints().Where(point => !left.Contains(point.Word))];
    }
}

using FleetLight.Contracts.Views;
using FleetLight.PageParts.Drawings;
using FleetLight.PageParts.Drawings.Circuits;

namespace FleetLight.Handover.Pictures;

/// <summary>Draws a circuit as the pages do: the same layout and words, in black and white.</summary>
public static class CircuitPicture
{
    private const double Lamp = 12;

    // How far the strokes of a lamp's cross reach: the radius at 45 degrees (the symbol of IEC 60617-11).
    private const double Cross = 8.5;

    /// <summary>The picture; none where the circuit has no design.</summary>
    /// <param name="circuit">The circuit.</param>
    /// <param name="cables">The cables of the site.</param>
    /// <param name="boxes">The boxes of the site.</param>
    /// <param name="widthPixels">The width there is, CSS pixels.</param>
    public static Picture? Of(HandoverCircuit circuit, IReadOnlyList<CableView> cables, IReadOnlyList<BoxView> boxes, double widthPixels)
    {
        ArgumentNullException.ThrowIfNull(circuit);
        var parts = PartsOf(circuit, cables, boxes);
        if (parts.Circuit is not { } built) return null;
        var tree = CircuitTree.Of(built);
        var text = new CircuitText(parts);
        var layout = CircuitLayout.Of(tree, text, widthPixels);
        var shapes = new List<Shape>();
        foreach (var run in layout.Runs)
            shapes.Add(new Way(run.Points, run.To.Run is null ? Ink.Grey : Ink.Black, 1.6, Dashes: run.To.Run is null ? [4, 4] : null));
        foreach (var sign in layout.Breaks)
        {
            var (x, y) = (sign.At.X, sign.At.Y);
            shapes.Add(new Way([new(x - 11, y - 9), new(x + 4, y - 9), new(x + 11, y), new(x + 4, y + 9), new(x - 11, y + 9)], Closed: true, Fill: Ink.White));
            shapes.Add(new Lettering(new Point(x - 2, y + 4), sign.Number.ToString(System.Globalization.CultureInfo.InvariantCulture), 11, Stand.Middle));
        }

        foreach (var place in layout.Places)
        {
            shapes.AddRange(Symbol(place));
            shapes.AddRange(Lines(place.Text));
            if (place.Cable is { } cable) shapes.AddRange(Lines(cable));
        }

        var name = circuit.State.Name ?? circuit.State.Id;
        return new Picture($"Circuit {name}, from the driver on", text.Summary(tree), layout.Width, layout.Height, shapes);
    }

    /// <summary>The parts of a circuit by which it is drawn and named.</summary>
    public static CircuitParts PartsOf(HandoverCircuit circuit, IReadOnlyList<CableView> cables, IReadOnlyList<BoxView> boxes)
    {
        ArgumentNullException.ThrowIfNull(circuit);
        return new CircuitParts
        {
            Id = circuit.State.Id,
            Name = circuit.State.Name,
            Circuit = circuit.Built,
            Cables = cables,
            Boxes = [.. boxes.Where(box => circuit.State.BoxIds.Contains(box.Id))],
            CableOfRun = circuit.CableOfRun,
            Expected = circuit.State.Expected,
            Readings = circuit.State.LastReadings,
        };
    }

    private static IEnumerable<Shape> Symbol(DrawnPlace place)
    {
        var at = place.Centre;
        switch (place.Node.Kind)
        {
            case PlaceKind.Driver:
                yield return Square(at, 13);
                yield return new Way([new(at.X - 13, at.Y + 13), new(at.X + 13, at.Y - 13)]);
                yield return new Lettering(new Point(at.X - 6, at.Y - 1), "+", 11, Stand.Middle, true);
                yield return new Lettering(new Point(at.X + 6, at.Y + 10), "−", 11, Stand.Middle, true);
                break;
            case PlaceKind.Fitting:
                yield return new Ring(at, Lamp, Width: 1.4, Fill: Ink.White);
                yield return new Way([new(at.X - Cross, at.Y - Cross), new(at.X + Cross, at.Y + Cross)]);
                yield return new Way([new(at.X - Cross, at.Y + Cross), new(at.X + Cross, at.Y - Cross)]);
                break;
            default:
                yield return Square(at, 11);
                yield return new Ring(at, 2.5, Fill: Ink.Black);
                break;
        }
    }

    private static Way Square(Point at, double half) => new(
        [new(at.X - half, at.Y - half), new(at.X + half, at.Y - half), new(at.X + half, at.Y + half), new(at.X - half, at.Y + half)],
        Width: 1.4, Closed: true, Fill: Ink.White);

    private static IEnumerable<Shape> Lines(TextBlock block) => block.Lines.Select((line, i) => new Lettering(
        new Point(block.At.X, block.At.Y + (i * CircuitLayout.LineHeight)), line.Text, 11, block.Centred ? Stand.Middle : Stand.Begins,
        line.Tone is LineTone.Name or LineTone.Outside or LineTone.Doubtful));
}

using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.PageParts.Drawings;
using FleetLight.PageParts.Drawings.Circuits;
using FleetLight.PageParts.Drawings.Plans;
using FleetLight.PageParts.Wording;
using FleetLight.Record.Handover;

namespace FleetLight.Handover.Pictures;

/// <summary>Draws the plan of a site as the pages do: the same projection, layout and placing of labels, in black and white.</summary>
public static class PlanPicture
{
    private const double LabelSize = 10.5;

    // Mean width of a letter of that size, rather less than more: what lies beside the word shall not go with it.
    private const double LetterWidth = 5.4;

    private static readonly (DuctService? Service, string Says, double[]? Dashes)[] Patterns =
    [
        (DuctService.LightingExtraLowVoltage, PlainWords.Of(DuctService.LightingExtraLowVoltage), null),
        (DuctService.MainsSupply, PlainWords.Of(DuctService.MainsSupply), [14, 4]),
        (DuctService.Telecoms, PlainWords.Of(DuctService.Telecoms), [2, 4]),
        (DuctService.Water, PlainWords.Of(DuctService.Water), [10, 4, 2, 4]),
        (DuctService.Gas, PlainWords.Of(DuctService.Gas), [10, 4, 2, 4, 2, 4]),
        (DuctService.Spare, PlainWords.Of(DuctService.Spare), [6, 5]),
        (null, "Not recorded what for", [1, 6]),
    ];

    /// <summary>The plan; none where nobody recorded where anything is.</summary>
    /// <param name="pack">The pack.</param>
    /// <param name="widthPixels">The width there is, CSS pixels.</param>
    /// <param name="heightPixels">The height there is, CSS pixels.</param>
    public static Picture? Of(HandoverPack pack, double widthPixels, double heightPixels)
    {
        ArgumentNullException.ThrowIfNull(pack);
        PlanThing[] things = [.. ThingsOf(pack).Where(thing => thing.Positions.Count > 0)];
        if (things.Length == 0) return null;
        var positions = things.SelectMany(thing => thing.Positions).ToArray();
        var projection = LocalProjection.Around(positions);
        var view = PlanView.Fitting([.. positions.Select(at => projection.Of(at.Longitude, at.Latitude))], widthPixels, heightPixels);
        var layout = PlanLayout.Of(things, projection, view);
        var shapes = new List<Shape>
        {
            new Way([new(0, 0), new(widthPixels, 0), new(widthPixels, heightPixels), new(0, heightPixels)], Ink.Grey, 0.8, true),
        };
        foreach (var way in layout.Ways) shapes.Add(new Way(way.Points, Ink.Black, 2.2, Dashes: DashesOf(way.Thing.Service)));
        foreach (var point in layout.Points) shapes.AddRange(Sign(point));
        foreach (var label in layout.Labels)
        {
            shapes.Add(Ground(label));
            shapes.Add(new Lettering(label.At, label.Text, LabelSize, Bold: label.Thing.Kind == PlanKind.Driver));
        }

        shapes.AddRange(Frame(view));
        var says = $"{Count(layout.Ways.Count, "way")} of ducts and {Count(layout.Points.Count, "place")} of drivers, boxes and fittings, north up; the schedules name each.";
        return new Picture($"Plan of {pack.Name ?? pack.SiteId}", says, widthPixels, heightPixels, shapes);
    }

    /// <summary>What the lines on the plan mean: the patterns that occur on it, in words.</summary>
    public static Picture Legend(HandoverPack pack, double widthPixels)
    {
        ArgumentNullException.ThrowIfNull(pack);
        var used = pack.Ducts.Where(duct => duct.Route is not null).Select(duct => duct.Service).ToHashSet();
        var shapes = new List<Shape>();
        double x = 0, y = 12;
        foreach (var (service, says, dashes) in Patterns.Where(pattern => used.Contains(pattern.Service)))
        {
            Room(52 + (says.Length * 6.2));
            shapes.Add(new Way([new(x, y), new(x + 44, y)], Width: 2.2, Dashes: dashes));
            shapes.Add(new Lettering(new Point(x + 50, y + 4), says));
            x += 64 + (says.Length * 6.2);
        }

        foreach (var (kind, says) in ((PlanKind, string)[])[(PlanKind.Driver, "driver"), (PlanKind.Box, "box"), (PlanKind.Fitting, "fitting")])
        {
            Room(80);
            shapes.AddRange(Sign(kind, new Point(x + 10, y)));
            shapes.Add(new Lettering(new Point(x + 24, y + 4), says));
            x += 84;
        }

        return new Picture("What the lines and signs mean", "The pattern of a line says what a duct is for.", widthPixels, y + 14, shapes);

        void Room(double width)
        {
            if (x + width <= widthPixels) return;
            (x, y) = (0, y + 24);
        }
    }

    /// <summary>The things of a site as the plan takes them.</summary>
    public static IEnumerable<PlanThing> ThingsOf(HandoverPack pack)
    {
        ArgumentNullException.ThrowIfNull(pack);
        foreach (var duct in pack.Ducts)
        {
            yield return new PlanThing
            {
                Kind = PlanKind.Duct,
                Id = duct.Id,
                Name = HandoverMaker.LabelOf(duct.Labels) ?? CircuitNames.Shortened(duct.Id),
                Says = "",
                Positions = duct.Route is { } route ? [.. route.Coordinates.Select(at => (at[0], at[1]))] : [],
                Service = duct.Service,
            };
        }

        foreach (var box in pack.Boxes)
            yield return new PlanThing { Kind = PlanKind.Box, Id = box.Id, Name = box.Label ?? CircuitNames.Shortened(box.Id), Says = "", Positions = At(box.Position) };
        foreach (var circuit in pack.Circuits)
        {
            yield return new PlanThing
            {
                Kind = PlanKind.Driver,
                Id = circuit.State.Id,
                Name = circuit.State.Name ?? CircuitNames.Shortened(circuit.State.Id),
                Says = "",
                Positions = At(circuit.State.DriverPosition),
            };
            var number = 0;
            foreach (var fitting in circuit.State.Fittings)
            {
                number++;
                yield return new PlanThing { Kind = PlanKind.Fitting, Id = fitting.FittingId, Name = $"{number}", Says = "", Positions = At(fitting.Position) };
            }
        }
    }

    private static IReadOnlyList<(double Longitude, double Latitude)> At(GeoPoint? point) => point is { } at ? [(at.Coordinates[0], at.Coordinates[1])] : [];

    private static double[]? DashesOf(DuctService? service) => Patterns.First(pattern => pattern.Service == service || pattern.Service is null).Dashes;

    // Lines of ducts that pass under a label would strike it out.
    private static Way Ground(PlanLabel label)
    {
        var (left, right, top, bottom) = (label.At.X - 1, label.At.X + (label.Text.Length * LetterWidth) + 1, label.At.Y - 9, label.At.Y + 3);
        return new Way([new(left, top), new(right, top), new(right, bottom), new(left, bottom)], Ink.None, 0, true, Ink.White);
    }

    private static IEnumerable<Shape> Sign(PlacedThing thing) => Sign(thing.Thing.Kind, thing.Anchor);

    private static IEnumerable<Shape> Sign(PlanKind kind, Point at)
    {
        switch (kind)
        {
            case PlanKind.Driver:
                yield return Square(at, 9);
                yield return new Way([new(at.X - 9, at.Y + 9), new(at.X + 9, at.Y - 9)]);
                break;
            case PlanKind.Fitting:
                // Wider than a box, which often stands at the same place.
                yield return new Ring(at, 10, Fill: Ink.White);
                yield return new Way([new(at.X - 7, at.Y - 7), new(at.X + 7, at.Y + 7)]);
                yield return new Way([new(at.X - 7, at.Y + 7), new(at.X + 7, at.Y - 7)]);
                break;
            default:
                yield return Square(at, 5);
                yield return new Ring(at, 1.8, Fill: Ink.Black);
                break;
        }
    }

    private static Way Square(Point at, double half) => new(
        [new(at.X - half, at.Y - half), new(at.X + half, at.Y - half), new(at.X + half, at.Y + half), new(at.X - half, at.Y + half)], Closed: true, Fill: Ink.White);

    // North and a bar of a round length.
    private static IEnumerable<Shape> Frame(PlanView view)
    {
        var (right, bottom) = (view.WidthPixels - 22, view.HeightPixels - 18);
        var metres = view.ScaleMetres(Math.Min(160, view.WidthPixels / 3));
        var length = metres * view.PixelsPerMetre;
        yield return new Way([new(right, 40), new(right + 8, 40), new(right, 12), new(right - 8, 40)], Closed: true, Fill: Ink.White);
        yield return new Lettering(new Point(right, 54), "N", 11, Stand.Middle, true);
        var ground = 24 + Math.Max(length, 60);
        yield return new Way([new(8, bottom - 16), new(ground, bottom - 16), new(ground, bottom + 12), new(8, bottom + 12)], Ink.None, 0, true, Ink.White);
        yield return new Way([new(14, bottom), new(14, bottom + 6), new(14 + length, bottom + 6), new(14 + length, bottom)]);
        yield return new Lettering(new Point(18, bottom), metres < 1 ? $"{Figures.Plain(metres * 100, 0)} cm" : $"{Figures.Plain(metres, 0)} m", 10.5);
    }

    private static string Count(int number, string one) => $"{number} {one}{(number == 1 ? "" : "s")}";
}

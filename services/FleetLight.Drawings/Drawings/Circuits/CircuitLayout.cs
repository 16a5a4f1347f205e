namespace FleetLight.PageParts.Drawings.Circuits;

/// <summary>Lines of text set at a place.</summary>
/// <param name="At">Where the first line's base line begins, or its middle lies.</param>
/// <param name="Centred">Whether the lines are centred there.</param>
/// <param name="Lines">The lines, one below the other.</param>
public sealed record TextBlock(Point At, bool Centred, IReadOnlyList<TextLine> Lines);

/// <summary>A place as drawn.</summary>
/// <param name="Node">The place.</param>
/// <param name="Row">Its row, from 0.</param>
/// <param name="Column">Its column, from 0.</param>
/// <param name="Centre">The middle of its symbol.</param>
/// <param name="Cable">What is said of the cable that leads there.</param>
/// <param name="Text">What is said of it.</param>
public sealed record DrawnPlace(PlaceNode Node, int Row, int Column, Point Centre, TextBlock? Cable, TextBlock Text);

/// <summary>A run as drawn.</summary>
/// <param name="To">The place it leads to.</param>
/// <param name="Points">Its corners.</param>
public sealed record DrawnRun(PlaceNode To, IReadOnlyList<Point> Points);

/// <summary>A number that stands where a line leaves a row, and again where it goes on.</summary>
/// <param name="Number">The number, from 1.</param>
/// <param name="At">Its middle.</param>
/// <param name="GoesOn">Whether the line goes on here; else it leaves here.</param>
public sealed record DrawnBreak(int Number, Point At, bool GoesOn);

/// <summary>
/// A circuit laid out on a grid. A way goes on to the right; what branches off goes down beside its place and on to the right; what
/// does not fit goes on in a new row with a number at both breaks, so that no line crosses another and nothing leaves the width.
/// </summary>
public sealed class CircuitLayout
{
    /// <summary>Half the size of a symbol, CSS pixels.</summary>
    public const double Radius = 13;

    /// <summary>From one line of text to the next, CSS pixels.</summary>
    public const double LineHeight = 15;

    // A cell that holds "2 × 1.5 mm²" at 12 px; three and a half of them fit a phone of 360 px.
    private const double LeastCell = 92;

    // Mean width of a character at 12 px in the fonts of the page, rather more than less.
    private const double CharacterWidth = 6.6;

    private const double Gap = 10;

    private const double BreakWidth = 24;

    private readonly List<Row> rows = [];
    private readonly List<(PlaceNode Node, int Row, int Column)> placed = [];
    private readonly Dictionary<PlaceNode, int> rowOf = [];
    private readonly Dictionary<PlaceNode, int> breaks = [];
    private readonly Queue<PlaceNode> waiting = new();
    private readonly int columns;

    private CircuitLayout(double width)
    {
        Width = Math.Max(width, 1.5 * LeastCell);
        columns = Math.Max(1, (int)Math.Floor((Width / LeastCell) - 0.5));
        Cell = Width / (columns + 0.5);
    }

    /// <summary>Its width, CSS pixels.</summary>
    public double Width { get; }

    /// <summary>Its height, CSS pixels.</summary>
    public double Height { get; private set; }

    /// <summary>Width of a column, CSS pixels.</summary>
    public double Cell { get; }

    /// <summary>Number of columns.</summary>
    public int Columns => columns;

    /// <summary>The places.</summary>
    public IReadOnlyList<DrawnPlace> Places { get; private set; } = [];

    /// <summary>The runs.</summary>
    public IReadOnlyList<DrawnRun> Runs { get; private set; } = [];

    /// <summary>The numbers where lines leave a row and go on in another.</summary>
    public IReadOnlyList<DrawnBreak> Breaks { get; private set; } = [];

    /// <summary>Lays a circuit out.</summary>
    /// <param name="tree">The circuit.</param>
    /// <param name="text">What is said of its parts.</param>
    /// <param name="widthPixels">The width there is, CSS pixels.</param>
    public static CircuitLayout Of(CircuitTree tree, CircuitText text, double widthPixels)
    {
        ArgumentNullException.ThrowIfNull(tree);
        ArgumentNullException.ThrowIfNull(text);
        var layout = new CircuitLayout(widthPixels);
        foreach (var root in tree.Roots)
        {
            layout.waiting.Enqueue(root);
            layout.PlaceWaiting();
        }

        layout.Draw(text);
        return layout;
    }

    private void PlaceWaiting()
    {
        while (waiting.TryDequeue(out var node))
        {
            var row = rows.Count;
            _ = RowAt(row);
            Put(node, row, 0);
        }
    }

    private void Put(PlaceNode first, int row, int column)
    {
        var way = new List<PlaceNode>();
        for (var node = first; node is not null; node = node.Children.Count > 0 ? node.Children[0] : null)
        {
            if (column + way.Count == columns)
            {
                Break(node);
                break;
            }

            way.Add(node);
        }

        for (var i = 0; i < way.Count; i++)
        {
            placed.Add((way[i], row, column + i));
            rowOf[way[i]] = row;
            RowAt(row).Taken[column + i] = true;
            if (i > 0) RowAt(row).Crossed[column + i] = true;
        }

        // The last first: what hangs on the places before then finds its way down free, left of all that.
        for (var i = way.Count - 1; i >= 0; i--)
            foreach (var branch in way[i].Children.Skip(1)) Branch(way[i], branch, row, column + i);
    }

    private void Branch(PlaceNode from, PlaceNode branch, int row, int column)
    {
        if (branch.Depth > columns - column || Below(from, branch, row, column) is not { } free)
        {
            Break(branch);
            return;
        }

        for (var r = row + 1; r <= free; r++) RowAt(r).Down[column] = from;
        Put(branch, free, column);
    }

    private int? Below(PlaceNode from, PlaceNode branch, int row, int column)
    {
        for (var r = row + 1; ; r++)
        {
            var at = RowAt(r);
            if (at.Crossed[column] || (at.Down[column] is { } other && other != from)) return null;
            if (IsFree(at, column, branch.Depth)) return r;
        }
    }

    private static bool IsFree(Row row, int column, int length)
    {
        for (var c = column; c < column + length; c++)
            if (row.Taken[c] || (c > column && row.Down[c] is not null)) return false;
        return true;
    }

    private void Break(PlaceNode node)
    {
        breaks[node] = breaks.Count + 1;
        waiting.Enqueue(node);
    }

    private Row RowAt(int index)
    {
        while (rows.Count <= index) rows.Add(new Row(columns));
        return rows[index];
    }

    private void Draw(CircuitText text)
    {
        var most = (int)((Cell - 6) / CharacterWidth);
        var texts = placed.Select(each => (
            each.Node, each.Row, each.Column,
            Above: TextFit.Lines(text.Cable(each.Node.Run), most),
            Below: TextFit.Lines([.. text.Place(each.Node), .. LeavingDown(each.Node)], most))).ToList();
        // What comes from above has its words beside the line, over those of the run that goes on from there: side by side they would touch.
        var linesOf = texts.ToDictionary(each => each.Node, each => each.Above.Count);
        int RaisedBy(PlaceNode node, int row) =>
            GoesDown(node, row) && node.Children is [var next, ..] && rowOf[next] == row && linesOf[node] > 0 ? linesOf[next] : 0;
        var axes = Axes(texts.ToLookup(each => each.Row, each => (each.Above.Count + RaisedBy(each.Node, each.Row), each.Below.Count)));
        var centres = placed.ToDictionary(each => each.Node, each => new Point((each.Column + 1) * Cell, axes[each.Row]));
        Places =
        [
            .. texts.Select(each =>
            {
                var centre = centres[each.Node];
                return new DrawnPlace(
                    each.Node, each.Row, each.Column, centre, CableBlock(each.Above, centre, GoesDown(each.Node, each.Row), RaisedBy(each.Node, each.Row)),
                    new TextBlock(new Point(centre.X, centre.Y + Radius + LineHeight + 4), true, each.Below));
            }),
        ];
        Runs = [.. placed.Where(each => each.Node.Parent is not null).SelectMany(each => Ways(each.Node, each.Row, centres))];
        Breaks = [.. breaks.OrderBy(each => each.Value).SelectMany(each => BreakSigns(each.Key, each.Value, centres))];
    }

    // A branch that goes on elsewhere is told below its place; a way that goes on elsewhere has its number at the row's end.
    private IEnumerable<TextLine> LeavingDown(PlaceNode node) =>
        node.Children.Skip(1).Where(breaks.ContainsKey).Select(branch => new TextLine($"branch to {breaks[branch]}", LineTone.Name));

    private bool GoesDown(PlaceNode node, int row) =>
        node.Parent is { } parent && !breaks.ContainsKey(node) && rowOf[parent] != row;

    // Between two places where the way goes on, beside the line where it comes from above.
    private TextBlock? CableBlock(IReadOnlyList<TextLine> lines, Point centre, bool goesDown, int raisedBy)
    {
        if (lines.Count == 0) return null;
        var left = centre.X - (Cell / 2);
        var top = centre.Y - Radius - 6 - ((lines.Count + raisedBy - 1) * LineHeight);
        return new TextBlock(new Point(goesDown ? left + 5 : left, top), !goesDown, lines);
    }

    private double[] Axes(ILookup<int, (int Above, int Below)> counts)
    {
        var axes = new double[rows.Count];
        var top = 2.0;
        for (var row = 0; row < axes.Length; row++)
        {
            var above = counts[row].Select(each => each.Above).DefaultIfEmpty(0).Max();
            var below = counts[row].Select(each => each.Below).DefaultIfEmpty(0).Max();
            axes[row] = top + (above * LineHeight) + (above > 0 ? 6 : 0) + Radius + 4;
            top = axes[row] + Radius + 8 + (below * LineHeight) + Gap;
        }

        Height = top;
        return axes;
    }

    private IEnumerable<DrawnRun> Ways(PlaceNode node, int row, Dictionary<PlaceNode, Point> centres)
    {
        var to = centres[node];
        var from = centres[node.Parent!];
        var end = new Point(to.X - Radius, to.Y);
        var beside = from.X - (Cell / 2);
        var lane = from.Y + Radius + 5;
        if (GoesDown(node, row))
        {
            Point[] corners = [new(from.X, from.Y + Radius), new(from.X, lane), new(beside, lane), new(beside, to.Y), end];
            yield return new DrawnRun(node, corners);
        }
        else if (breaks.ContainsKey(node))
        {
            if (LeavesRight(node)) yield return new DrawnRun(node, [new(from.X + Radius, from.Y), new(from.X + (Cell / 2) - BreakWidth, from.Y)]);
            yield return new DrawnRun(node, [new(BreakWidth, to.Y), end]);
        }
        else
        {
            yield return new DrawnRun(node, [new(from.X + Radius, from.Y), end]);
        }
    }

    private IEnumerable<DrawnBreak> BreakSigns(PlaceNode node, int number, Dictionary<PlaceNode, Point> centres)
    {
        var from = centres[node.Parent!];
        if (LeavesRight(node)) yield return new DrawnBreak(number, new Point(from.X + (Cell / 2) - (BreakWidth / 2), from.Y), false);
        yield return new DrawnBreak(number, new Point(BreakWidth / 2, centres[node].Y), true);
    }

    private static bool LeavesRight(PlaceNode node) => node.Parent!.Children[0] == node;

    private sealed class Row(int columns)
    {
        // Whether a place stands in the column.
        public bool[] Taken { get; } = new bool[columns];

        // Whether a run goes across the left edge of the column.
        public bool[] Crossed { get; } = new bool[columns];

        // Whose branch goes down along the left edge of the column.
        public PlaceNode?[] Down { get; } = new PlaceNode?[columns];
    }
}

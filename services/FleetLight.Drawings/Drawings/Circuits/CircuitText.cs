using FleetLight.Contracts;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Views;
using FleetLight.PageParts.Wording;

namespace FleetLight.PageParts.Drawings.Circuits;

/// <summary>How a line of text on a drawing is set.</summary>
public enum LineTone
{
    /// <summary>The name of a part.</summary>
    Name,

    /// <summary>What is known of it.</summary>
    Plain,

    /// <summary>That trouble may be there.</summary>
    Suspect,

    /// <summary>That it is the place to measure next.</summary>
    Next,

    /// <summary>A reading within.</summary>
    Within,

    /// <summary>A reading that is doubtful.</summary>
    Doubtful,

    /// <summary>A reading outside.</summary>
    Outside,
}

/// <summary>A line of text on a drawing.</summary>
/// <param name="Text">What it says.</param>
/// <param name="Tone">How it is set.</param>
public sealed record TextLine(string Text, LineTone Tone = LineTone.Plain);

/// <summary>What stands at the parts of a circuit's drawing, in words.</summary>
public sealed class CircuitText
{
    private readonly CircuitParts parts;
    private readonly Dictionary<string, FittingInput> fittings = new(StringComparer.Ordinal);
    private readonly Dictionary<string, CableView> cables = new(StringComparer.Ordinal);
    private readonly Dictionary<string, BoxView> boxes = new(StringComparer.Ordinal);
    private readonly Dictionary<string, Suspect> suspects = new(StringComparer.Ordinal);
    private readonly HashSet<string> next;

    /// <summary>The texts of a circuit.</summary>
    public CircuitText(CircuitParts parts)
    {
        ArgumentNullException.ThrowIfNull(parts);
        this.parts = parts;
        Names = new CircuitNames(parts);
        next = parts.NextPlaces.ToHashSet(StringComparer.Ordinal);
        foreach (var fitting in parts.Circuit?.Fittings ?? []) fittings.TryAdd(fitting.FittingId, fitting);
        foreach (var cable in parts.Cables) cables.TryAdd(cable.Id, cable);
        foreach (var box in parts.Boxes) boxes.TryAdd(box.Id, box);
        foreach (var suspect in parts.Suspects) suspects.TryAdd(suspect.At, suspect);
    }

    /// <summary>What its parts are called.</summary>
    public CircuitNames Names { get; }

    /// <summary>The trouble that may be at a part; none where none is suspected.</summary>
    public Suspect? SuspectAt(string id) => suspects.GetValueOrDefault(id);

    /// <summary>Whether it is the place to measure next.</summary>
    public bool IsNext(string place) => next.Contains(place);

    /// <summary>What is said of the cable that leads to a place, above it.</summary>
    public IReadOnlyList<TextLine> Cable(RunInput? run)
    {
        if (run is null) return [];
        var lines = new List<TextLine>
        {
            new(Figures.Plain(run.LengthMetres) + " m", LineTone.Name),
            new($"{Cores(run)} × {Figures.Plain(run.AreaSquareMillimetres)} mm²"),
        };
        lines.AddRange(Polarities(run).Select(core => new TextLine(core)));
        if (SuspectAt(run.RunId) is { } suspect) lines.Add(Marked(suspect));
        return lines;
    }

    /// <summary>What is said of a place, below it.</summary>
    public IReadOnlyList<TextLine> Place(PlaceNode node)
    {
        ArgumentNullException.ThrowIfNull(node);
        var lines = new List<TextLine> { new(Names.OfPlace(node.Id), LineTone.Name) };
        lines.AddRange(Rating(node).Select(text => new TextLine(text)));
        lines.AddRange(ExpectedAt(node.Id).Take(1).Select(expected => new TextLine("expect " + Unbroken(Figures.Of(expected.Expected.Value, expected.Quantity)))));
        if (ReadAt(node.Id) is { } read) lines.Add(new TextLine("read " + Unbroken(Figures.Of(read.Value, read.Quantity)), ToneOf(read.Verdict)));
        foreach (var (place, _) in node.Closes) lines.Add(new TextLine($"ring to {Names.InSentence(place)}"));
        if (SuspectAt(node.Id) is { } suspect) lines.Add(Marked(suspect));
        if (IsNext(node.Id)) lines.Add(new TextLine("Measure here", LineTone.Next));
        return lines;
    }

    /// <summary>All that is known of a place and the cable that leads there, as a sentence or two for a list.</summary>
    public string Told(PlaceNode node)
    {
        ArgumentNullException.ThrowIfNull(node);
        var told = new List<string> { string.Join(", ", (string[])[Names.OfPlace(node.Id) + IdOf(node), .. Rating(node)]) + "." };
        if (node.Run is { } run)
        {
            var from = Names.InSentence(node.Parent!.Id);
            var cable = parts.CableOfRun.TryGetValue(run.RunId, out var id) ? Names.OfCable(id) : "Cable";
            told.Add($"{cable} from {from}: {Figures.Plain(run.LengthMetres)} m, {Cores(run)} × {Figures.Plain(run.AreaSquareMillimetres)} mm²"
                + string.Concat(CoresTold(run).Select(core => ", " + core)) + ".");
            if (SuspectAt(run.RunId) is { } on) told.Add($"Suspect, {Figures.Percent(on.Likelihood)}: {on.Says}");
        }
        else if (node.Parent is null && node.Kind != PlaceKind.Driver)
        {
            told.Add("No recorded run leads here from the driver.");
        }

        foreach (var expected in ExpectedAt(node.Id))
        {
            told.Add($"Should read {Figures.Of(expected.Expected.Value, expected.Quantity)} "
                + $"({Figures.Between(expected.Expected.Low, expected.Expected.High, expected.Quantity)}).");
        }

        if (ReadAt(node.Id) is { } read) told.Add($"Last read {Figures.Of(read.Value, read.Quantity)}: {PlainWords.Of(read.Verdict)}.");
        foreach (var (place, by) in node.Closes) told.Add($"A run of {Figures.Plain(by.LengthMetres)} m closes a ring to {Names.InSentence(place)}.");
        if (SuspectAt(node.Id) is { } suspect) told.Add($"Suspect, {Figures.Percent(suspect.Likelihood)}: {suspect.Says}");
        if (IsNext(node.Id)) told.Add("The place to measure next.");
        return string.Join(' ', told);
    }

    /// <summary>The circuit in one sentence.</summary>
    public string Summary(CircuitTree tree)
    {
        ArgumentNullException.ThrowIfNull(tree);
        var runs = parts.Circuit?.Runs ?? [];
        var metres = Figures.Plain(runs.Sum(run => run.LengthMetres), 1);
        var marked = parts.Suspects.Count == 0
            ? "Nothing is marked as suspect."
            : $"Suspect: {string.Join(", ", parts.Suspects.Take(3).Select(suspect => InWords(suspect.At)))}.";
        return $"{PlainWords.Of(parts.Circuit?.Drive ?? DriveKind.ConstantCurrent)}: {Counted(fittings.Count, "fitting")}, "
            + $"{Counted(runs.Length, "run")} of cable of {metres} m, {Counted(tree.Places.Count(node => node.Kind == PlaceKind.Box), "box", "boxes")} on them. {marked}";
    }

    /// <summary>Boxes of the circuit that no run names: a joint beside a fitting, for instance.</summary>
    public IReadOnlyList<string> OtherBoxes(CircuitTree tree)
    {
        ArgumentNullException.ThrowIfNull(tree);
        var drawn = tree.Places.Select(node => node.Id).ToHashSet(StringComparer.Ordinal);
        return [.. parts.Boxes.Where(box => !drawn.Contains(box.Id)).Select(box => string.Join(", ", (string[])[Names.OfPlace(box.Id), .. Joints(box)]))];
    }

    // A figure and its unit stay on one line.
    private static string Unbroken(string figure) => figure.Replace(' ', '\u00a0');

    private static string Counted(int number, string one, string? many = null) => number == 1 ? $"1 {one}" : $"{number} {many ?? one + "s"}";

    private static TextLine Marked(Suspect suspect) => new($"Suspect {Figures.Percent(suspect.Likelihood).Replace(" %", "\u00a0%", StringComparison.Ordinal)}", LineTone.Suspect);

    private string InWords(string id) =>
        parts.Circuit?.Runs.FirstOrDefault(run => run.RunId == id) is { } run ? "the " + char.ToLowerInvariant(Names.OfRun(run)[0]) + Names.OfRun(run)[1..] : Names.InSentence(id);

    private static string IdOf(PlaceNode node) => node.Kind == PlaceKind.Driver ? "" : $" ({node.Id})";

    private IEnumerable<string> Rating(PlaceNode node)
    {
        switch (node.Kind)
        {
            case PlaceKind.Driver when parts.Circuit is { } circuit:
                if (circuit.Drive == DriveKind.ConstantCurrent && circuit.Driver.RatedMilliamps is { } milliamps) yield return Figures.Plain(milliamps) + " mA";
                if (circuit.Drive == DriveKind.ConstantVoltage && circuit.Driver.RatedVolts is { } volts) yield return Figures.Plain(volts) + " V";
                break;
            case PlaceKind.Fitting:
                yield return Figures.Plain(fittings[node.Id].RatedWatts) + " W";
                break;
            default:
                foreach (var told in boxes.TryGetValue(node.Id, out var box) ? Joints(box) : []) yield return told;
                break;
        }
    }

    private IEnumerable<string> Joints(BoxView box)
    {
        var own = box.Joints.Count(joint => joint.CircuitId == parts.Id);
        if (own > 0) yield return Counted(own, "joint");
    }

    // Volts before the rest: they are what is measured first, and there is room for one.
    private IEnumerable<ExpectedReading> ExpectedAt(string place) =>
        parts.Expected.Where(each => CircuitParts.PlaceOf(each.Place, each.PlaceId) == place).OrderBy(each => each.Quantity);

    private ReadingView? ReadAt(string place) =>
        parts.Readings.FirstOrDefault(each => CircuitParts.PlaceOf(each.Place, each.PlaceId) == place);

    private static LineTone ToneOf(CircuitVerdict verdict) => verdict switch
    {
        CircuitVerdict.Within => LineTone.Within,
        CircuitVerdict.Doubtful => LineTone.Doubtful,
        CircuitVerdict.Outside => LineTone.Outside,
        _ => LineTone.Plain,
    };

    private CableView? CableOf(RunInput run) =>
        parts.CableOfRun.TryGetValue(run.RunId, out var id) ? cables.GetValueOrDefault(id) : null;

    private int Cores(RunInput run) => CableOf(run) is { Cores.Count: > 0 } cable ? cable.Cores.Count : run.ConductorsInLoop ?? 2;

    // On the drawing only the cores that carry this circuit, each with the sign its sleeve says.
    private IEnumerable<string> Polarities(RunInput run) =>
        CableOf(run) is { } cable ? cable.Cores.Where(core => core.CircuitId == parts.Id && core.Sleeves.Count > 0).Select(core => $"{core.Core} {SignOf(core)}") : [];

    private IEnumerable<string> CoresTold(RunInput run)
    {
        if (CableOf(run) is not { } cable) yield break;
        foreach (var core in cable.Cores)
        {
            yield return core switch
            {
                { Use: CoreUse.Spare } => $"{core.Core} spare",
                { Use: CoreUse.ProtectiveEarth } => $"{core.Core} protective earth",
                _ when core.CircuitId != parts.Id => $"{core.Core} for another circuit",
                { Sleeves.Count: 0 } => $"{core.Core} without a sleeve",
                _ => $"{core.Core} {PlainWords.Of(core.Sleeves.Values.First()).ToLowerInvariant()}"
                    + (core.Sleeves.Values.Distinct().Count() > 1 ? " at one end, another sleeve at the other" : ""),
            };
        }
    }

    // Two ends that say differently are a finding of its own; here both are shown.
    private static string SignOf(CoreView core) => string.Join('/', core.Sleeves.Values.Distinct().Select(PlainWords.SignOf));
}

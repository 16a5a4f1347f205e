using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Field.Sites;
using FleetLight.PageParts.Drawings.Circuits;
using FleetLight.PageParts.Measuring;
using FleetLight.Record.Circuits;

namespace FleetLight.Field.Measuring;

/// <summary>A circuit as it is measured: what follows from all facts this phone has, ready to judge a reading at every keystroke.</summary>
public sealed class MeasuredCircuit
{
    private readonly CircuitBasis basis;
    private readonly ReadingWindow window;
    private readonly CircuitParts parts;

    private MeasuredCircuit(CircuitDesigned design, CircuitBasis basis, ReadingWindow window, CircuitParts parts) =>
        (Design, this.basis, this.window, this.parts, Names) = (design, basis, window, parts, new CircuitNames(parts));

    /// <summary>Its design.</summary>
    public CircuitDesigned Design { get; }

    /// <summary>What its parts are called.</summary>
    public CircuitNames Names { get; }

    /// <summary>Why it cannot be said what it should read; none where it can.</summary>
    public string? WhyNot => basis.Reads is null ? basis.Refusal?.Text ?? "The design of the circuit is not known yet." : null;

    /// <summary>Where a meter can be put, with what the place is called.</summary>
    public IReadOnlyList<(string Node, string Name)> Nodes =>
    [
        (CircuitParts.DriverPlace, "Driver"),
        .. Design.Fittings.Select(fitting => (fitting.FittingId, $"{Names.OfPlace(fitting.FittingId)} ({fitting.FittingId})")),
        .. basis.BoxIds.Select(box => (box, Names.OfPlace(box))),
    ];

    /// <summary>The circuit as this phone knows it; none where its design is not here.</summary>
    public static MeasuredCircuit? Of(ISiteState site, string circuitId)
    {
        ArgumentNullException.ThrowIfNull(site);
        if (site.Designs.FirstOrDefault(each => each.CircuitId == circuitId) is not { } design || site.Works.BasisOf(circuitId) is not { } basis) return null;
        var window = site.Works.WindowOf(circuitId);
        var boxes = site.Boxes.Where(box => basis.BoxIds.Contains(box.Id)).ToList();
        var parts = new CircuitParts
        {
            Id = circuitId,
            Name = design.Name,
            Circuit = CircuitModels.Of(basis).Circuit,
            Cables = [.. site.Cables.Where(cable => basis.CableIds.Contains(cable.Id))],
            Boxes = boxes,
            CableOfRun = design.Runs.Where(run => run.CableId is not null).ToDictionary(run => run.RunId, run => run.CableId!, StringComparer.Ordinal),
            Expected = basis.Expected,
            Readings = ReadingTrial.Judge(basis, window),
        };
        return new MeasuredCircuit(design, basis, window, parts);
    }

    /// <summary>Whether nothing that it is judged or drawn by differs.</summary>
    public bool IsAs(MeasuredCircuit other)
    {
        ArgumentNullException.ThrowIfNull(other);
        return ReferenceEquals(basis, other.basis) && window.Entries.SequenceEqual(other.window.Entries);
    }

    /// <summary>Whether a place is a fitting.</summary>
    public bool IsFitting(string node) => Names.NumberOf(node) is not null;

    /// <summary>What should be read at a spot; none where that is not worked out.</summary>
    public ExpectedValue? ExpectedAt(Spot spot) =>
        basis.Expected.FirstOrDefault(each => each.Quantity == spot.Quantity && CircuitParts.PlaceOf(each.Place, each.PlaceId) == spot.Node)?.Expected;

    /// <summary>A reading as it would be recorded.</summary>
    public ReadingEntry Reading(Spot spot, double value, DateTimeOffset now, string source) => new()
    {
        Source = source,
        RunningNumber = int.MaxValue,
        Id = "not-recorded-yet",
        HappenedAt = now.ToUniversalTime(),
        RecordedAt = now.ToUniversalTime(),
        SiteId = Design.SiteId,
        CircuitId = Design.CircuitId,
        Place = spot.Place,
        PlaceId = spot.PlaceId,
        Quantity = spot.Quantity,
        Value = value,
    };

    /// <summary>What a reading says.</summary>
    public ReadingView Judge(ReadingEntry reading) => ReadingTrial.Judge(basis, reading);

    /// <summary>What the visit's readings say together with this one; none where it stands alone.</summary>
    public TogetherView? Together(ReadingEntry reading) => ReadingTrial.Together(basis, window, reading);

    /// <summary>What to ask for its causes; none where nothing needs explaining.</summary>
    public Contracts.Calculations.Requests.NextMeasurementRequest? Question(ReadingEntry reading) => ReadingTrial.Question(basis, window, reading);

    /// <summary>Its drawing, with what the causes mark.</summary>
    public CircuitParts Drawing(CauseList? causes) => causes is null
        ? parts
        : parts with { Suspects = causes.Suspects, NextPlaces = causes.Next is [{ Places: [var place] }, ..] ? [place] : [] };
}

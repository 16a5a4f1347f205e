using System.Globalization;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.PageParts.Drawings.Circuits;
using FleetLight.PageParts.History;
using FleetLight.PageParts.Wording;
using FleetLight.Record.Handover;

namespace FleetLight.Handover.Writing;

/// <summary>How a pack names things, people and times.</summary>
internal sealed class Said
{
    /// <summary>What is said where nobody recorded it.</summary>
    public const string NotRecorded = "not recorded";

    private readonly HandoverDays days;
    private readonly Dictionary<string, string> people;
    private readonly Dictionary<string, string> cables;
    private readonly Dictionary<string, string> ducts;
    private readonly Dictionary<string, string> boxes;
    private readonly Dictionary<string, string> circuits;

    public Said(HandoverPack pack)
    {
        days = new HandoverDays(pack.OffsetMinutes);
        people = pack.Recorders.Where(each => each.Name is not null).ToDictionary(each => each.Source, each => each.Name!, StringComparer.Ordinal);
        cables = pack.Cables.ToDictionary(cable => cable.Id, cable => HandoverMaker.LabelOf(cable.Labels) ?? cable.Id, StringComparer.Ordinal);
        ducts = pack.Ducts.ToDictionary(duct => duct.Id, duct => HandoverMaker.LabelOf(duct.Labels) ?? duct.Id, StringComparer.Ordinal);
        boxes = pack.Boxes.ToDictionary(box => box.Id, box => box.Label ?? box.Id, StringComparer.Ordinal);
        circuits = pack.Circuits.ToDictionary(circuit => circuit.State.Id, circuit => circuit.State.Name ?? circuit.State.Id, StringComparer.Ordinal);
        Clock = pack.OffsetMinutes == 0 ? "Days and times are UTC." : $"Days and times are UTC{Offset(pack.OffsetMinutes)}.";
    }

    public string Clock { get; }

    public string Who(string source) => people.GetValueOrDefault(source) ?? FactTale.DeviceOf(source);

    public string Cable(string id) => cables.GetValueOrDefault(id) ?? id;

    public string Duct(string id) => ducts.GetValueOrDefault(id) ?? id;

    public string Circuit(string id) => circuits.GetValueOrDefault(id) ?? id;

    public string Circuits(IReadOnlyList<string> ids) => ids.Count == 0 ? "all of the site"
        : ids.Count == circuits.Count && ids.Count > 1 ? "all circuits"
        : string.Join(", ", ids.Select(Circuit));

    public string Thing(ThingRef thing) => thing.Kind switch
    {
        ThingKind.Duct => Named("duct", Duct(thing.Id)),
        ThingKind.Cable => Named("cable", Cable(thing.Id)),
        ThingKind.Box => Named("box", boxes.GetValueOrDefault(thing.Id) ?? thing.Id),
        ThingKind.Circuit => Named("circuit", Circuit(thing.Id)),
        _ => $"{PlainWords.Of(thing.Kind).ToLowerInvariant()} {thing.Id}",
    };

    public string Where(OpenPoint point) => string.Join(", ", (string[])
        [Thing(point.Thing), .. point.Part is { } part ? (string[])[part] : [], .. point.Place is { } place && place != point.Label ? (string[])[place] : []]);

    public string Day(DateTimeOffset at) => Day(days.Of(at));

    public string Time(DateTimeOffset at) => days.Local(at).ToString("d MMM yyyy HH:mm", CultureInfo.InvariantCulture);

    public static string Day(DateOnly day) => day.ToString("d MMM yyyy", CultureInfo.InvariantCulture);

    public static string Ends(IReadOnlyDictionary<RunEnd, string>? labels) => (labels?.GetValueOrDefault(RunEnd.Near), labels?.GetValueOrDefault(RunEnd.Far)) switch
    {
        (null, null) => "none",
        ({ } near, { } far) when near == far => near,
        ({ } near, null) => $"{near} (near end only)",
        (null, { } far) => $"{far} (far end only)",
        var (near, far) => $"{near} / {far}",
    };

    public static string Number(double? value, int places = 2) => value is { } known ? Figures.Plain(known, places) : NotRecorded;

    public static string YesNo(bool? value) => value switch { true => "yes", false => "no", _ => NotRecorded };

    public static string At(GeoPoint? position) => position is null ? "" : string.Create(
        CultureInfo.InvariantCulture, $"{position.Coordinates[1]:0.000000}, {position.Coordinates[0]:0.000000}");

    public static string Place(CircuitNames names, ReadingPlaceKind kind, string? id) => names.OfPlace(CircuitParts.PlaceOf(kind, id));

    // "Box 3" is not said to be the box Box 3.
    private static string Named(string kind, string name) => name.StartsWith(kind, StringComparison.OrdinalIgnoreCase) ? name : $"{kind} {name}";

    private static string Offset(int minutes) => $"{(minutes < 0 ? "−" : "+")}{Math.Abs(minutes) / 60:00}:{Math.Abs(minutes) % 60:00}";
}

using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Handover.Blocks;
using FleetLight.PageParts.SitePages;
using FleetLight.PageParts.Wording;

namespace FleetLight.Handover.Writing;

/// <summary>Schedules of what lies in the ground: ducts with what still fits, cables, boxes.</summary>
internal static class GroundPart
{
    public static IEnumerable<Block> Write(HandoverPack pack, Said said)
    {
        yield return new Heading(1, "Ducts, cables and boxes", true);
        yield return new Grid(
            "Ducts",
            [
                new("Duct", 1.1), new("For", 1.5), new("Colour seen", 0.9), new("Wall", 1.3), new("Bore (mm)", 0.7, true), new("Length (m)", 0.8, true),
                new("Depth (mm)", 0.8, true), new("Bends (°)", 0.8, true), new("From", 1.3), new("To", 1.3), new("Plugged", 0.9),
            ],
            [
                .. pack.Ducts.Select(duct => (IReadOnlyList<string>)
                [
                    Said.Ends(duct.Labels) is var label && label == "none" ? $"{duct.Id}, no label" : label,
                    duct.Service is { } service ? PlainWords.Of(service) : Said.NotRecorded,
                    duct.Colour is { } colour ? PlainWords.Of(colour) : Said.NotRecorded,
                    duct.Wall is { } wall ? PlainWords.Of(wall) : Said.NotRecorded,
                    Said.Number(duct.BoreMillimetres), Said.Number(duct.LengthMetres, 1), Said.Number(duct.DepthMillimetres, 0), Said.Number(duct.BendsDegrees, 0),
                    duct.NearEndAt ?? "", duct.FarEndAt ?? "", Plugged(duct.PluggedEnds),
                ]),
            ],
            "No duct is recorded.");
        yield return new Grid(
            "Spare capacity: what still fits",
            [new("Duct", 1.1), new("Inside", 3.2), new("Filled", 2), new("Still fits", 1.8), new("Draw string", 1.8)],
            [
                .. DuctRow.Of(pack.Ducts, pack.Cables).Select(row => (IReadOnlyList<string>)
                    [row.Name, row.Inside.Count == 0 ? "nothing" : string.Join("; ", row.Inside), row.Fill, row.StillFits, row.Way]),
            ],
            "No duct is recorded.");
        yield return new Grid(
            "Cables",
            [
                new("Cable", 1.2), new("Cores", 2.6), new("Area (mm²)", 0.8, true), new("Conductor", 1.1), new("Length (m)", 0.8, true), new("Thick (mm)", 0.8, true),
                new("Through", 1.5), new("Pulled on", 1),
            ],
            [
                .. pack.Cables.Select(cable => (IReadOnlyList<string>)
                [
                    Said.Ends(cable.Labels) is var label && label == "none" ? $"{cable.Id}, no label" : label,
                    cable.Cores.Count == 0 ? Said.NotRecorded : string.Join("; ", cable.Cores.Select(core => Core(core, said))),
                    Said.Number(cable.AreaSquareMillimetres), cable.ConductorClass is { } conductor ? PlainWords.Of(conductor) : Said.NotRecorded,
                    Said.Number(cable.LengthMetres, 1), Said.Number(cable.OutsideDiameterMillimetres, 1),
                    cable.DuctIds.Count == 0 ? "no duct" : string.Join(", ", cable.DuctIds.Select(said.Duct)),
                    cable.PulledAt is { } at ? said.Day(at) : Said.NotRecorded,
                ]),
            ],
            "No cable is recorded.");
        yield return new Grid(
            "Boxes",
            [
                new("Box", 1.4), new("Lies", 1.1), new("Entry", 1.3), new("Held", 0.6), new("Gel", 0.6), new("Breathes", 0.8), new("Joints", 2), new("Closed on", 1),
                new("Position (lat., long.)", 1.7),
            ],
            [
                .. pack.Boxes.Select(box => (IReadOnlyList<string>)
                [
                    box.Label ?? box.Id, box.Lie is { } lie ? PlainWords.Of(lie) : Said.NotRecorded, box.Entry is { } entry ? PlainWords.Of(entry) : Said.NotRecorded,
                    Said.YesNo(box.StrainRelief), Said.YesNo(box.GelFilled), Said.YesNo(box.Breathing),
                    box.Joints.Count == 0 ? "none" : string.Join("; ", box.Joints.GroupBy(joint => (joint.CircuitId, joint.Arrangement))
                        .Select(group => $"{group.Count()} {PlainWords.Of(group.Key.Arrangement).ToLowerInvariant()}, {said.Circuit(group.Key.CircuitId)}")),
                    box.SealedAt is { } at ? said.Day(at) : "not recorded as closed", Said.At(box.Position),
                ]),
            ],
            "No box is recorded.");
        yield return new Prose(
            "Held: cables are held against pull. Fill and what still fits are guidance by the recorded bore and diameters; look into the duct before buying cable.", true);
    }

    private static string Plugged(IReadOnlyList<RunEnd> ends) => ends.Count switch { 0 => "no end", 1 => ends[0] == RunEnd.Near ? "near end" : "far end", _ => "both ends" };

    private static string Core(CoreView core, Said said) => core.Use switch
    {
        CoreUse.Spare => $"{core.Core} spare",
        CoreUse.ProtectiveEarth => $"{core.Core} protective earth",
        _ => string.Join(' ', (string[])
            [core.Core, .. core.Sleeves.Values.Distinct().Select(PlainWords.SignOf), .. core.CircuitId is { } id ? (string[])[said.Circuit(id)] : []]),
    };
}

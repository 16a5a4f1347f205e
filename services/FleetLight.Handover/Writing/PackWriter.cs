using FleetLight.Contracts.Views;
using FleetLight.Handover.Blocks;
using FleetLight.Handover.Pictures;
using FleetLight.PageParts.Drawings.Plans;
using FleetLight.Record.Handover;

namespace FleetLight.Handover.Writing;

/// <summary>Says a handover pack in words, tables and drawings: first a page for its owner, then the schedules for whoever works on the site.</summary>
public static class PackWriter
{
    // What both an A4 and a Letter sheet hold beside their margins, CSS pixels of a 96th of an inch.
    private const double Width = 680;
    private const double PlanHeight = 560;

    /// <summary>The document of a pack.</summary>
    public static PackDocument Write(HandoverPack pack)
    {
        ArgumentNullException.ThrowIfNull(pack);
        var said = new Said(pack);
        Block[] blocks =
        [
            .. FirstPage(pack, said), .. Plan(pack), .. CircuitPart.Write(pack, said, Width), .. GroundPart.Write(pack, said), .. CarePart.Write(pack, said),
            .. RecordPart.Write(pack, said),
        ];
        var name = pack.Name ?? pack.SiteId;
        var under = $"{name} · as of {HandoverDays.Say(pack.Day)} · digest {pack.Digest.Sha256[..16]} · advice, never a certificate";
        return new PackDocument($"Handover pack: {name}", under, blocks);
    }

    private static IEnumerable<Block> FirstPage(HandoverPack pack, Said said)
    {
        yield return new Prose(string.Join(" · ", (string[])
        [
            .. pack.Place is { } place ? (string[])[place] : [],
            $"as of {HandoverDays.Say(pack.Day)}",
            pack.CommissionedOn is { } began ? $"in use since {HandoverDays.Say(began)}" : "not all of it in use yet",
        ]));
        yield return new Heading(2, "What is in the ground");
        yield return new Points(pack.Summary.InTheGround.Count > 0 ? pack.Summary.InTheGround : ["Nothing is recorded as built yet."]);
        yield return new Heading(2, "What state it is in");
        yield return new Points(pack.Summary.State);
        yield return new Heading(2, "What to look after");
        yield return new Points(pack.Summary.LookAfter);
        yield return new Framed("What not to do", pack.Summary.DoNot);
        yield return new Prose($"Made from what crews recorded on site. {said.Clock} The pages that follow are for whoever works on the installation.", true);
        yield return new Contents();
    }

    private static IEnumerable<Block> Plan(HandoverPack pack)
    {
        yield return new Heading(1, "Plan", true);
        if (PlanPicture.Of(pack, Width, PlanHeight) is { } plan)
        {
            yield return new Figure(plan, "By recorded positions, north up. The number at a fitting is its place on its circuit.");
            yield return new Figure(PlanPicture.Legend(pack, Width), "");
        }
        else
        {
            yield return new Prose("There is no plan: nobody recorded where anything is.");
        }

        var lost = PlanPicture.ThingsOf(pack).Where(thing => thing.Positions.Count == 0)
            .GroupBy(thing => thing.Kind).OrderBy(group => group.Key).Select(group => $"{group.Count()} {Word(group.Key, group.Count())}").ToArray();
        if (lost.Length > 0) yield return new Prose($"Not on the plan, because their position was not recorded: {string.Join(", ", lost)}.");
        yield return new Framed("Before digging", ["This is not a plan to dig by. Have services located on the spot, and dig by hand near them, as local rules ask."]);
    }

    private static string Word(PlanKind kind, int count) => kind.ToString().ToLowerInvariant() + (count == 1 ? "" : kind == PlanKind.Box ? "es" : "s");
}

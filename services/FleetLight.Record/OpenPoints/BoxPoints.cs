using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Files;
using FleetLight.Record.Rules.Boxes;

namespace FleetLight.Record.OpenPoints;

/// <summary>
/// What is missing on a box. All that hangs on how it is closed is one point: one closing mends it, and two facts made from the
/// same state would undo one another.
/// </summary>
internal static class BoxPoints
{
    public static void Add(BoxView box, string site, ICollection<OpenPoint> into)
    {
        var label = box.Label ?? box.Id;
        var points = new PointMaker(ThingKind.Box, box, label, into)
        {
            Circuits = [.. box.Joints.Select(joint => joint.CircuitId).Distinct().Order(StringComparer.Ordinal)],
        };
        AddClosing(box, site, label, points);
        points.AddRest(finding => Joint(box, site, finding), $"box {label}", box.Position);
    }

    private static void AddClosing(BoxView box, string site, string label, PointMaker points)
    {
        Finding?[] found =
        [
            points.Take(BoxNotClosed.Rule.Id), points.Take(GroundBoxNotGelFilled.Rule.Id), points.Take(MembraneWithoutStrainRelief.Rule.Id),
            points.Take(BoxCannotBreathe.Rule.Id),
        ];
        List<string> missing = [.. found.OfType<Finding>().Select(finding => finding.Reason)];
        List<string> remedies = [.. found.OfType<Finding>().Select(finding => finding.Remedy)];
        if (box.SealedAt is null && missing.Count == 0) missing.Add("It is not recorded how the box was closed.");
        if (box.Label is null) missing.Add("The box bears no label.");
        if (missing.Count == 0) return;
        if (remedies.Count == 0) remedies.Add(box.SealedAt is null ? "Close the box and record how." : "Label it and record it.");
        var due = found.OfType<Finding>().Select(finding => RulePhases.Of(finding.Rule));
        points.Add(
            "closed", string.Join(' ', missing), string.Join(' ', remedies.Distinct()),
            box.SealedAt is null ? WorkPhase.BeforeCover : due.Append(WorkPhase.BeforeHandover).Min(),
            [Closing(box, site, label, gel: found[1] is not null, held: found[2] is not null, breathes: found[3] is not null)],
            [.. found.OfType<Finding>()], place: $"box {label}", position: box.Position);
    }

    private static TickOff Closing(BoxView box, string site, string label, bool gel, bool held, bool breathes)
    {
        var isKnown = box.SealedAt is not null;
        var (relief, filled, breathing) = (held || box.StrainRelief == true, gel || box.GelFilled == true, breathes || box.Breathing == true);
        var says = isKnown
            ? $"Closed {Of(box.Lie)}, through {(box.Entry == BoxEntry.Membrane ? "a membrane" : "glands")}, cables {(relief ? "" : "not ")}held, "
                + $"{(filled ? "with" : "without")} gel, {(breathing ? "can" : "cannot")} breathe, labelled {label}"
            : "Closed";
        return Ticks.Of<BoxSealed>(
            says, isKnown ? [] : ["lie", "entry", "strainRelief", "gelFilled", "breathing"],
            ("siteId", site), ("boxId", box.Id), ("lie", box.Lie is { } lie ? Words.Of(lie) : null),
            ("entry", box.Entry is { } entry ? Words.Of(entry) : null), ("strainRelief", isKnown ? relief : null),
            ("gelFilled", isKnown ? filled : null), ("breathing", isKnown ? breathing : null), ("label", label), ("position", Ticks.Node(box.Position)));
    }

    private static string Of(BoxLie? lie) => lie switch
    {
        BoxLie.OnSpike => "on its spike",
        BoxLie.OnWall => "on its wall",
        _ => "flat in the ground",
    };

    // What its connectors hold after it was made anew, only the crew can say.
    private static List<TickOff> Joint(BoxView box, string site, Finding finding)
    {
        var joint = box.Joints.FirstOrDefault(one => one.JointId == finding.Cause);
        if (joint is null || !(finding.Rule == JointUnderFitting.Rule.Id || finding.Rule == SeriesConnectorCrowded.Rule.Id)) return [];
        var under = joint.UnderFitting && finding.Rule != JointUnderFitting.Rule.Id;
        return
        [
            Ticks.Of<JointMade>(
                "Joint made anew", ["connectors"],
                ("siteId", site), ("boxId", box.Id), ("jointId", joint.JointId), ("circuitId", joint.CircuitId),
                ("arrangement", Words.Of(joint.Arrangement)), ("underFitting", under)),
        ];
    }
}

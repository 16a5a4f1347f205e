using System.Globalization;
using FleetLight.Contracts;
using FleetLight.Contracts.Views;

namespace FleetLight.Record.Visits;

/// <summary>What findings on boxes ask for, and what it takes to remake a joint.</summary>
internal static class BoxNeeds
{
    // A connector of a series joint passes the current from one core to one other.
    private const int SeriesConductors = 2;

    private const string GelAssumed = "One portion for each box; a large box takes more.";

    /// <summary>A way for the box to breathe.</summary>
    public static void Breathing(Finding finding, TakeAlongList list)
    {
        list.Add(
            new(TakeAlongItem.BreathingGland, "vent, drain or gland made for it", finding.Subject.Id) { Pieces = 1, Assumed = "One for each box." }, finding.Reason);
        Reach(Box(finding, list), finding.Reason, list);
    }

    /// <summary>What closes the box.</summary>
    public static void Closing(Finding finding, TakeAlongList list)
    {
        var box = Box(finding, list);
        if (box?.Lie is null or BoxLie.FlatInGround) Gel(finding.Subject.Id, finding.Reason, list);
        Reach(box, finding.Reason, list);
    }

    /// <summary>Gel.</summary>
    public static void Filling(Finding finding, TakeAlongList list)
    {
        Gel(finding.Subject.Id, finding.Reason, list);
        Reach(Box(finding, list), finding.Reason, list);
    }

    /// <summary>A box aside, for the joint that sits under a fitting.</summary>
    public static void JointAside(Finding finding, TakeAlongList list)
    {
        var box = Box(finding, list);
        list.Add(new(TakeAlongItem.Box, "box that can be opened, with its glands", finding.Subject.Id) { Pieces = 1, Assumed = "One for each joint." }, finding.Reason);
        Gel(finding.Subject.Id, finding.Reason, list);
        if (box is not null) Connectors(box, JointOf(box, finding), finding.Reason, list);
        CircuitNeeds.Prover(list);
    }

    /// <summary>What holds the cables.</summary>
    public static void StrainRelief(Finding finding, TakeAlongList list)
    {
        list.Add(
            new(TakeAlongItem.StrainRelief, "clamp or gland that holds a cable", finding.Subject.Id) { Pieces = 2, Assumed = "One cable in and one out." }, finding.Reason);
        Reach(Box(finding, list), finding.Reason, list);
    }

    /// <summary>Connectors enough that none holds more than two conductors.</summary>
    public static void Uncrowding(Finding finding, TakeAlongList list)
    {
        var box = Box(finding, list);
        foreach (var joint in JointOf(box, finding))
        {
            list.Add(
                Connector(SeriesConductors, $"{finding.Subject.Id}/{joint.JointId}", (joint.ConductorsPerConnector.Sum() + 1) / SeriesConductors), finding.Reason);
        }

        if (box?.GelFilled == true) Gel(box.Id, finding.Reason, list);
        Reach(box, finding.Reason, list);
        CircuitNeeds.Prover(list);
    }

    /// <summary>What it takes to open a box, remake the joints of a circuit in it, and close it.</summary>
    public static void Remake(BoxView box, string circuitId, string says, TakeAlongList list)
    {
        JointView[] joints = [.. box.Joints.Where(joint => joint.CircuitId == circuitId)];
        if (joints.Length > 0) Connectors(box, joints, says, list);
        else Connectors(box.Id, says, list);
        if (box.GelFilled == true || box.Lie is null or BoxLie.FlatInGround) Gel(box.Id, says, list);
        if (box.Label is { } label)
            list.Add(new(TakeAlongItem.BoxLabel, "label for the box", box.Id) { Pieces = 1, Label = label }, $"{says} The box is marked {label}: it is found and closed by that.");
        Reach(box, says, list);
    }

    /// <summary>Connectors for a joint of which nothing is recorded.</summary>
    public static void Connectors(string place, string says, TakeAlongList list) => list.Add(
        Connector(SeriesConductors, place, 2) with { Assumed = "Two cores in and two out, where no joint is recorded." }, says);

    private static void Connectors(BoxView box, IReadOnlyCollection<JointView> joints, string says, TakeAlongList list)
    {
        foreach (var joint in joints)
        {
            foreach (var size in joint.ConductorsPerConnector.GroupBy(conductors => Math.Max(conductors, SeriesConductors)))
                list.Add(Connector(size.Key, $"{box.Id}/{joint.JointId}", size.Count()), $"{says} Joint {joint.JointId} in box {box.Label ?? box.Id}.");
        }
    }

    private static TakeAlongNeed Connector(int conductors, string place, int pieces) =>
        new(TakeAlongItem.Connector, string.Create(CultureInfo.InvariantCulture, $"connector for {conductors} conductors"), place)
        {
            Pieces = pieces,
            ConductorsEach = conductors,
        };

    private static void Gel(string boxId, string says, TakeAlongList list) =>
        list.Add(new(TakeAlongItem.Gel, "gel for a box", boxId) { Pieces = 1, Assumed = GelAssumed }, says);

    // A box flat in the ground has a cover, and may have to be dug out.
    private static void Reach(BoxView? box, string says, TakeAlongList list)
    {
        if (box?.Lie is not (null or BoxLie.FlatInGround)) return;
        list.Mind(TakeAlongCautions.Digging);
        list.Tool(TakeAlongItem.CoverKey, "key or lifter for the cover", says);
    }

    private static JointView[] JointOf(BoxView? box, Finding finding) =>
        [.. (box?.Joints ?? []).Where(joint => finding.Cause.Length == 0 || joint.JointId == finding.Cause)];

    private static BoxView? Box(Finding finding, TakeAlongList list)
    {
        var box = list.Ground.Boxes.GetValueOrDefault(finding.Subject.Id);
        if (box is null) list.Open($"Nothing is known of the box {finding.Subject.Id}: {finding.Remedy}");
        return box;
    }
}

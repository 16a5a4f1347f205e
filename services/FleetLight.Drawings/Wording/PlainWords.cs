using FleetLight.Contracts;
using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Views;

namespace FleetLight.PageParts.Wording;

/// <summary>
/// What the pages say for the words of the contracts, in one place: short, in the terms of the trade, without a full stop. A value
/// that has no words yet is told as it stands on the wire, and a test fails.
/// </summary>
public static partial class PlainWords
{
    /// <summary>A phase of a circuit.</summary>
    public static string Of(CircuitPhase phase) => phase switch
    {
        CircuitPhase.Named => "Named only",
        CircuitPhase.Designed => "Designed",
        CircuitPhase.Cabled => "Cables pulled",
        CircuitPhase.Fitted => "Fittings fixed",
        CircuitPhase.Connected => "Driver connected",
        CircuitPhase.Energised => "Energised",
        CircuitPhase.Proven => "Proven",
        CircuitPhase.HandedOver => "Handed over",
        _ => Unworded(phase),
    };

    /// <summary>A verdict on a circuit. Advice, never a certificate.</summary>
    public static string Of(CircuitVerdict verdict) => verdict switch
    {
        CircuitVerdict.Unread => "Not read yet",
        CircuitVerdict.Within => "As it should be",
        CircuitVerdict.Doubtful => "Doubtful",
        CircuitVerdict.Outside => "Not as it should be",
        CircuitVerdict.CannotBeJudged => "Cannot be judged",
        _ => Unworded(verdict),
    };

    /// <summary>A verdict on a reading. Advice, never a certificate.</summary>
    public static string Of(ReadingVerdict verdict) => Of(Same(verdict));

    /// <summary>The verdict on a circuit that says the same as one on a reading.</summary>
    public static CircuitVerdict Same(ReadingVerdict verdict) => verdict switch
    {
        ReadingVerdict.Within => CircuitVerdict.Within,
        ReadingVerdict.Doubtful => CircuitVerdict.Doubtful,
        ReadingVerdict.Outside => CircuitVerdict.Outside,
        _ => CircuitVerdict.CannotBeJudged,
    };

    /// <summary>How a circuit is driven.</summary>
    public static string Of(DriveKind drive) => drive switch
    {
        DriveKind.ConstantCurrent => "Constant current, in series",
        DriveKind.ConstantVoltage => "Constant voltage, in parallel",
        _ => Unworded(drive),
    };

    /// <summary>How a fitting's current follows its voltage.</summary>
    public static string Of(LoadKind load) => load switch
    {
        LoadKind.ConstantPower => "Constant power",
        LoadKind.ConstantCurrent => "Constant current",
        LoadKind.Resistive => "Resistive",
        _ => Unworded(load),
    };

    /// <summary>A class of conductor.</summary>
    public static string Of(ConductorClass conductor) => conductor switch
    {
        ConductorClass.Class1 => "Solid (class 1)",
        ConductorClass.Class2 => "Stranded (class 2)",
        ConductorClass.Class5 => "Flexible (class 5)",
        _ => Unworded(conductor),
    };

    /// <summary>Where a run lies.</summary>
    public static string Of(RunSurroundings surroundings) => surroundings switch
    {
        RunSurroundings.Buried => "In the ground",
        RunSurroundings.InAir => "In open air",
        RunSurroundings.WarmBox => "In a warm enclosure",
        _ => Unworded(surroundings),
    };

    /// <summary>What a duct is laid for.</summary>
    public static string Of(DuctService service) => service switch
    {
        DuctService.LightingExtraLowVoltage => "Lighting, extra-low voltage",
        DuctService.MainsSupply => "Mains supply",
        DuctService.Telecoms => "Telephone and data",
        DuctService.Water => "Water",
        DuctService.Gas => "Gas",
        DuctService.Spare => "Spare",
        _ => Unworded(service),
    };

    /// <summary>The colour of a duct as seen.</summary>
    public static string Of(DuctColour colour) => colour switch
    {
        DuctColour.Other => "another colour",
        DuctColour.Black or DuctColour.Red or DuctColour.Orange or DuctColour.Blue or DuctColour.Yellow or DuctColour.Green
            or DuctColour.Grey or DuctColour.Purple or DuctColour.White => Unworded(colour),
        _ => Unworded(colour),
    };

    /// <summary>The wall of a duct.</summary>
    public static string Of(DuctWall wall) => wall switch
    {
        DuctWall.TwinWall => "Twin wall, smooth inside",
        DuctWall.SingleWallCorrugated => "Corrugated inside and out",
        DuctWall.SmoothRigid => "Smooth, rigid",
        DuctWall.SmoothFlexible => "Smooth, bendable",
        _ => Unworded(wall),
    };

    /// <summary>An end of a duct or cable.</summary>
    public static string Of(RunEnd end) => end switch
    {
        RunEnd.Near => "Near end (towards the supply)",
        RunEnd.Far => "Far end",
        _ => Unworded(end),
    };

    /// <summary>How a draw string got into a duct.</summary>
    public static string Of(StringMethod method) => method switch
    {
        StringMethod.Pulled => "Pulled through",
        StringMethod.PushedByRod => "Pushed through on a rod",
        StringMethod.Blown => "Blown or sucked through",
        StringMethod.LaidIn => "Laid in with the duct",
        _ => Unworded(method),
    };

    /// <summary>What a core is used for.</summary>
    public static string Of(CoreUse use) => use switch
    {
        CoreUse.Circuit => "Carries a circuit",
        CoreUse.Spare => "Spare",
        CoreUse.ProtectiveEarth => "Protective earth",
        _ => Unworded(use),
    };

    /// <summary>What the sleeve on a core says.</summary>
    public static string Of(CorePolarity polarity) => polarity switch
    {
        CorePolarity.Positive => "Plus",
        CorePolarity.Negative => "Minus",
        CorePolarity.SeriesLink => "Link to the next fitting",
        _ => Unworded(polarity),
    };

    /// <summary>The sign of what the sleeve on a core says: the colour of a core differs by country and maker, the sign does not.</summary>
    public static string SignOf(CorePolarity polarity) => polarity switch
    {
        CorePolarity.Positive => "+",
        CorePolarity.Negative => "−",
        _ => "→",
    };

    /// <summary>How a box lies.</summary>
    public static string Of(BoxLie lie) => lie switch
    {
        BoxLie.FlatInGround => "Flat in the ground",
        BoxLie.OnSpike => "On a ground spike",
        BoxLie.OnWall => "On a wall",
        _ => Unworded(lie),
    };

    /// <summary>How cables enter a box.</summary>
    public static string Of(BoxEntry entry) => entry switch
    {
        BoxEntry.Glands => "Through glands",
        BoxEntry.Membrane => "Through a membrane",
        _ => Unworded(entry),
    };

    /// <summary>How a joint is arranged.</summary>
    public static string Of(JointArrangement arrangement) => arrangement switch
    {
        JointArrangement.Series => "In series",
        JointArrangement.Parallel => "In parallel",
        _ => Unworded(arrangement),
    };

    /// <summary>A kind of test.</summary>
    public static string Of(TestKind test) => test switch
    {
        TestKind.InsulationResistance => "Insulation resistance",
        TestKind.Continuity => "Continuity",
        TestKind.Polarity => "Polarity",
        TestKind.ResidualCurrentDevice => "Trip time of the residual current device",
        _ => Unworded(test),
    };

    /// <summary>A type of residual current device.</summary>
    public static string Of(ResidualCurrentDeviceType type) => type switch
    {
        ResidualCurrentDeviceType.General => "General, without delay",
        ResidualCurrentDeviceType.Selective => "Selective (type S)",
        _ => Unworded(type),
    };

    /// <summary>Where a reading is taken.</summary>
    public static string Of(ReadingPlaceKind place) => place switch
    {
        ReadingPlaceKind.Driver => "At the driver",
        ReadingPlaceKind.Box => "In a box",
        ReadingPlaceKind.Fitting => "At a fitting",
        _ => Unworded(place),
    };

    /// <summary>What is read.</summary>
    public static string Of(ReadingQuantity quantity) => quantity switch
    {
        ReadingQuantity.VoltsDc => "Volts, direct",
        ReadingQuantity.Milliamps => "Milliamps",
        ReadingQuantity.LoopOhms => "Loop resistance, driver off",
        _ => Unworded(quantity),
    };

    /// <summary>What is measured.</summary>
    public static string Of(MeasuredAs quantity) => quantity switch
    {
        MeasuredAs.VoltsDc => "Volts, direct",
        MeasuredAs.Milliamps => "Milliamps",
        MeasuredAs.LoopOhms => "Loop resistance, driver off",
        MeasuredAs.MegohmsInsulation => "Insulation resistance",
        MeasuredAs.FittingLit => "Lit or dark",
        _ => Unworded(quantity),
    };

    /// <summary>What a correction does.</summary>
    public static string Of(CorrectionAction action) => action switch
    {
        CorrectionAction.Withdraw => "Withdrawn",
        CorrectionAction.Replace => "Replaced",
        _ => Unworded(action),
    };

    /// <summary>A kind of thing.</summary>
    public static string Of(ThingKind kind) => kind switch
    {
        ThingKind.Site => "Site",
        ThingKind.Circuit => "Circuit",
        ThingKind.Duct => "Duct",
        ThingKind.Cable => "Cable",
        ThingKind.Box => "Box",
        _ => Unworded(kind),
    };

    /// <summary>How much an alert matters.</summary>
    public static string Of(AlertSeverity severity) => severity switch
    {
        AlertSeverity.Notice => "Work left to do",
        AlertSeverity.Warning => "Trouble if left",
        AlertSeverity.Serious => "Serious",
        _ => Unworded(severity),
    };

    /// <summary>Where an alert stands.</summary>
    public static string Of(AlertStanding standing) => standing switch
    {
        AlertStanding.Raised => "Nobody has seen to it",
        AlertStanding.Acknowledged => "Noted by a person",
        AlertStanding.Cleared => "Its cause has gone",
        _ => Unworded(standing),
    };

    /// <summary>Where a visit stands.</summary>
    public static string Of(VisitState state) => state switch
    {
        VisitState.Planned => "To be made",
        VisitState.Done => "Made",
        VisitState.CalledOff => "Called off",
        _ => Unworded(state),
    };

    /// <summary>By when work should be done.</summary>
    public static string Of(WorkPhase phase) => phase switch
    {
        WorkPhase.BeforeCover => "Before the ground is closed",
        WorkPhase.BeforeEnergising => "Before it is energised",
        WorkPhase.BeforeHandover => "Before it is handed over",
        _ => Unworded(phase),
    };

    /// <summary>What is left of a recorded fact.</summary>
    public static string Of(FactStanding standing) => standing switch
    {
        FactStanding.Counts => "Counts",
        FactStanding.Withdrawn => "Taken back",
        FactStanding.Replaced => "Changed: other data counts",
        FactStanding.Waiting => "Waits for the fact that it corrects",
        FactStanding.Overruled => "Does not count: a newer correction does",
        _ => Unworded(standing),
    };

    /// <summary>A sort of material.</summary>
    public static string Of(MaterialSort sort) => sort switch
    {
        MaterialSort.Duct => "Duct",
        MaterialSort.DrawString => "Draw string",
        MaterialSort.Cable => "Cable",
        MaterialSort.Fitting => "Fittings",
        MaterialSort.Box => "Boxes",
        MaterialSort.Joint => "Joints",
        MaterialSort.Connector => "Connectors",
        MaterialSort.Gland => "Glands",
        MaterialSort.Gel => "Gel",
        MaterialSort.Label => "Labels",
        _ => Unworded(sort),
    };

    /// <summary>The unit of a material, behind its figure.</summary>
    public static string Of(MaterialUnit unit) => unit switch
    {
        MaterialUnit.Pieces => "pieces",
        MaterialUnit.Metres => "m",
        MaterialUnit.Millilitres => "ml",
        _ => Unworded(unit),
    };

    /// <summary>How readings over months go.</summary>
    public static string Of(ReadingTrend trend) => trend switch
    {
        ReadingTrend.CannotTell => "Cannot be told yet",
        ReadingTrend.Steady => "Steady",
        ReadingTrend.Watch => "To be watched",
        ReadingTrend.SlowChange => "Changes slowly",
        ReadingTrend.UnexplainedStep => "A sudden change that nothing recorded explains",
        _ => Unworded(trend),
    };

    /// <summary>Any of these within a sentence or behind a name: without a capital at its beginning.</summary>
    public static string InSentence(Enum word)
    {
        var said = word switch
        {
            CircuitPhase value => Of(value),
            CircuitVerdict value => Of(value),
            ReadingVerdict value => Of(value),
            DriveKind value => Of(value),
            LoadKind value => Of(value),
            ConductorClass value => Of(value),
            RunSurroundings value => Of(value),
            DuctService value => Of(value),
            DuctColour value => Of(value),
            DuctWall value => Of(value),
            RunEnd value => Of(value),
            StringMethod value => Of(value),
            CoreUse value => Of(value),
            CorePolarity value => Of(value),
            BoxLie value => Of(value),
            BoxEntry value => Of(value),
            JointArrangement value => Of(value),
            TestKind value => Of(value),
            ResidualCurrentDeviceType value => Of(value),
            ReadingPlaceKind value => Of(value),
            ReadingQuantity value => Of(value),
            MeasuredAs value => Of(value),
            CorrectionAction value => Of(value),
            ThingKind value => Of(value),
            AlertSeverity value => Of(value),
            AlertStanding value => Of(value),
            VisitState value => Of(value),
            WorkPhase value => Of(value),
            FactStanding value => Of(value),
            MaterialSort value => Of(value),
            MaterialUnit value => Of(value),
            ReadingTrend value => Of(value),
            PositionMethod value => Of(value),
            SideOfLine value => Of(value),
            PlacementStanding value => Of(value),
            _ => System.Text.Json.JsonNamingPolicy.KebabCaseLower.ConvertName(word.ToString()).Replace('-', ' '),
        };
        return char.ToLowerInvariant(said[0]) + said[1..];
    }

    /// <summary>A value as it stands on the wire, its hyphens as spaces.</summary>
    private static string Unworded<T>(T value) where T : struct, Enum => Record.Files.Words.Of(value).Replace('-', ' ');
}

using System.Text.Json;
using FleetLight.Contracts;

namespace FleetLight.Field.Sites;

/// <summary>The words of the contract as people on site say them. Pure.</summary>
public static class FormWords
{
    private static readonly Dictionary<Enum, string> Own = new()
    {
        [DriveKind.ConstantCurrent] = "constant current",
        [DriveKind.ConstantVoltage] = "constant voltage",
        [ConductorClass.Class1] = "solid (class 1)",
        [ConductorClass.Class2] = "stranded (class 2)",
        [ConductorClass.Class5] = "flexible (class 5)",
        [DuctService.LightingExtraLowVoltage] = "lighting, extra-low voltage",
        [DuctService.MainsSupply] = "mains supply",
        [DuctService.Spare] = "spare, for later",
        [DuctWall.TwinWall] = "twin wall: smooth inside",
        [DuctWall.SingleWallCorrugated] = "single wall, corrugated",
        [DuctWall.SmoothRigid] = "smooth, rigid",
        [DuctWall.SmoothFlexible] = "smooth, bendable pipe",
        [RunEnd.Near] = "near end (supply side)",
        [RunEnd.Far] = "far end",
        [StringMethod.Pulled] = "pulled through",
        [StringMethod.PushedByRod] = "pushed on a rod",
        [StringMethod.Blown] = "blown or sucked",
        [StringMethod.LaidIn] = "was in it when laid",
        [CoreUse.ProtectiveEarth] = "protective earth",
        [CorePolarity.Positive] = "positive (+)",
        [CorePolarity.Negative] = "negative (−)",
        [CorePolarity.SeriesLink] = "series link",
        [BoxLie.FlatInGround] = "flat in the ground",
        [BoxLie.OnSpike] = "on a spike",
        [BoxLie.OnWall] = "on a wall",
        [BoxEntry.Glands] = "glands",
        [BoxEntry.Membrane] = "pierced membrane",
        [JointArrangement.Series] = "series: one core to one other",
        [JointArrangement.Parallel] = "parallel: several at one potential",
        [TestKind.InsulationResistance] = "insulation resistance",
        [TestKind.ResidualCurrentDevice] = "residual current device",
        [ResidualCurrentDeviceType.Selective] = "selective (type S)",
        [ReadingPlaceKind.Driver] = "at the driver",
        [ReadingPlaceKind.Box] = "in a box",
        [ReadingPlaceKind.Fitting] = "at a fitting",
        [ReadingQuantity.VoltsDc] = "voltage, V DC",
        [ReadingQuantity.Milliamps] = "current, mA DC",
        [ReadingQuantity.LoopOhms] = "loop resistance, Ω",
        [CorrectionAction.Withdraw] = "take it back",
        [CorrectionAction.Replace] = "change what it says",
        [SideOfLine.Left] = "left, seen from the first point towards the second",
        [SideOfLine.Right] = "right, seen from the first point towards the second",
        [LoadKind.ConstantPower] = "constant power",
        [LoadKind.ConstantCurrent] = "constant current",
    };

    /// <summary>A word for people.</summary>
    public static string Of(Enum word) =>
        Own.GetValueOrDefault(word) ?? JsonNamingPolicy.KebabCaseLower.ConvertName(word.ToString()).Replace('-', ' ');

    /// <summary>A unit of the contract as it is written on site.</summary>
    public static string Unit(string unit) => unit switch
    {
        "mm2" => "mm²",
        "deg" => "°",
        "ohm" => "Ω",
        "Mohm" => "MΩ",
        "1" => "",
        "V, mA or ohm" => "",
        _ => unit,
    };
}

using FleetLight.Contracts.Views;
using FleetLight.Record.Rules.Boxes;
using FleetLight.Record.Rules.Cables;
using FleetLight.Record.Rules.Circuits;
using FleetLight.Record.Rules.Ducts;

namespace FleetLight.Record.OpenPoints;

/// <summary>
/// By when what a rule finds should be mended: before the ground is closed what lies in it, before energising what the current
/// would find out, before the handover the rest (common practice, no source).
/// </summary>
public static class RulePhases
{
    private static readonly Dictionary<string, WorkPhase> ByRule = new(StringComparer.Ordinal)
    {
        [CableWithWaterOrGas.Rule.Id] = WorkPhase.BeforeCover,
        [DuctBendsTooMany.Rule.Id] = WorkPhase.BeforeCover,
        [DuctColourNotOfService.Rule.Id] = WorkPhase.BeforeCover,
        [DuctLeftOpen.Rule.Id] = WorkPhase.BeforeCover,
        [DuctOverfull.Rule.Id] = WorkPhase.BeforeCover,
        [DuctUnlabelled.Rule.Id] = WorkPhase.BeforeCover,
        [DuctWallNotAsCalled.Rule.Id] = WorkPhase.BeforeCover,
        [MainsDuctShallow.Rule.Id] = WorkPhase.BeforeCover,
        [NoStringLeft.Rule.Id] = WorkPhase.BeforeCover,
        [StringPushedTooFar.Rule.Id] = WorkPhase.BeforeCover,
        [CableUnlabelled.Rule.Id] = WorkPhase.BeforeEnergising,
        [CableWithoutDuct.Rule.Id] = WorkPhase.BeforeCover,
        [CoreOfAnotherCircuit.Rule.Id] = WorkPhase.BeforeEnergising,
        [PolaritySleeveMissing.Rule.Id] = WorkPhase.BeforeEnergising,
        [PolaritySleeveWrong.Rule.Id] = WorkPhase.BeforeEnergising,
        [BoxCannotBreathe.Rule.Id] = WorkPhase.BeforeHandover,
        [BoxNotClosed.Rule.Id] = WorkPhase.BeforeCover,
        [GroundBoxNotGelFilled.Rule.Id] = WorkPhase.BeforeCover,
        [JointUnderFitting.Rule.Id] = WorkPhase.BeforeCover,
        [MembraneWithoutStrainRelief.Rule.Id] = WorkPhase.BeforeCover,
        [SeriesConnectorCrowded.Rule.Id] = WorkPhase.BeforeCover,
        [DesignCannotWork.Rule.Id] = WorkPhase.BeforeCover,
        [DriverAtLimit.Rule.Id] = WorkPhase.BeforeEnergising,
        [DriverBelowRange.Rule.Id] = WorkPhase.BeforeEnergising,
        [EnergisedUntested.Rule.Id] = WorkPhase.BeforeEnergising,
        [ExtraLowVoltageExceeded.Rule.Id] = WorkPhase.BeforeEnergising,
        [FaultOpen.Rule.Id] = WorkPhase.BeforeHandover,
        [FittingNotAsDesigned.Rule.Id] = WorkPhase.BeforeEnergising,
        [FittingUnlit.Rule.Id] = WorkPhase.BeforeHandover,
        [FittingVoltsLow.Rule.Id] = WorkPhase.BeforeCover,
        [InsulationTooLow.Rule.Id] = WorkPhase.BeforeEnergising,
        [NoReadingSinceRepair.Rule.Id] = WorkPhase.BeforeHandover,
        [PolarityTestFailed.Rule.Id] = WorkPhase.BeforeEnergising,
        [ReadingDrifts.Rule.Id] = WorkPhase.BeforeHandover,
        [ReadingOutside.Rule.Id] = WorkPhase.BeforeHandover,
        [TouchLimitExceeded.Rule.Id] = WorkPhase.BeforeHandover,
        [TripTimeOutside.Rule.Id] = WorkPhase.BeforeHandover,
    };

    /// <summary>What these find are gaps and faults that have points of their own.</summary>
    public static readonly IReadOnlySet<string> SaidOtherwise =
        new HashSet<string>(StringComparer.Ordinal) { HandedOverIncomplete.Rule.Id, HandedOverWithOpenFaults.Rule.Id };

    /// <summary>By when; none of a rule that has no place here yet.</summary>
    public static WorkPhase? Find(string rule) => ByRule.TryGetValue(rule, out var phase) ? phase : null;

    /// <summary>By when; before the handover where a newer service found it by a rule that is not known here.</summary>
    public static WorkPhase Of(string rule) => Find(rule) ?? WorkPhase.BeforeHandover;
}

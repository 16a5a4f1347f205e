using FleetLight.Contracts.Views;
using FleetLight.Record.Boxes;
using FleetLight.Record.Cables;
using FleetLight.Record.Circuits;
using FleetLight.Record.Ducts;
using FleetLight.Record.Rules.Boxes;
using FleetLight.Record.Rules.Cables;
using FleetLight.Record.Rules.Circuits;
using FleetLight.Record.Rules.Ducts;

namespace FleetLight.Record.Rules;

/// <summary>Every rule there is, and the way to have them look at a thing.</summary>
public static class RuleBook
{
    private static readonly (Rule Rule, Action<DuctState, ICollection<Finding>> Find)[] OnDucts =
    [
        (CableWithWaterOrGas.Rule, CableWithWaterOrGas.Find),
        (DuctBendsTooMany.Rule, DuctBendsTooMany.Find),
        (DuctColourNotOfService.Rule, DuctColourNotOfService.Find),
        (DuctLeftOpen.Rule, DuctLeftOpen.Find),
        (DuctOverfull.Rule, DuctOverfull.Find),
        (DuctUnlabelled.Rule, DuctUnlabelled.Find),
        (DuctWallNotAsCalled.Rule, DuctWallNotAsCalled.Find),
        (MainsDuctShallow.Rule, MainsDuctShallow.Find),
        (NoStringLeft.Rule, NoStringLeft.Find),
        (StringPushedTooFar.Rule, StringPushedTooFar.Find),
    ];

    private static readonly (Rule Rule, Action<CableState, ICollection<Finding>> Find)[] OnCables =
    [
        (CableUnlabelled.Rule, CableUnlabelled.Find),
        (CableWithoutDuct.Rule, CableWithoutDuct.Find),
        (CoreOfAnotherCircuit.Rule, CoreOfAnotherCircuit.Find),
        (PolaritySleeveMissing.Rule, PolaritySleeveMissing.Find),
        (PolaritySleeveWrong.Rule, PolaritySleeveWrong.Find),
    ];

    private static readonly (Rule Rule, Action<BoxState, ICollection<Finding>> Find)[] OnBoxes =
    [
        (BoxCannotBreathe.Rule, BoxCannotBreathe.Find),
        (BoxNotClosed.Rule, BoxNotClosed.Find),
        (GroundBoxNotGelFilled.Rule, GroundBoxNotGelFilled.Find),
        (JointUnderFitting.Rule, JointUnderFitting.Find),
        (MembraneWithoutStrainRelief.Rule, MembraneWithoutStrainRelief.Find),
        (SeriesConnectorCrowded.Rule, SeriesConnectorCrowded.Find),
    ];

    private static readonly (Rule Rule, Action<CircuitState, ICollection<Finding>> Find)[] OnCircuits =
    [
        (DesignCannotWork.Rule, DesignCannotWork.Find),
        (DriverAtLimit.Rule, DriverAtLimit.Find),
        (DriverBelowRange.Rule, DriverBelowRange.Find),
        (EnergisedUntested.Rule, EnergisedUntested.Find),
        (ExtraLowVoltageExceeded.Rule, ExtraLowVoltageExceeded.Find),
        (FaultOpen.Rule, FaultOpen.Find),
        (FittingNotAsDesigned.Rule, FittingNotAsDesigned.Find),
        (FittingUnlit.Rule, FittingUnlit.Find),
        (FittingVoltsLow.Rule, FittingVoltsLow.Find),
        (HandedOverIncomplete.Rule, HandedOverIncomplete.Find),
        (HandedOverWithOpenFaults.Rule, HandedOverWithOpenFaults.Find),
        (InsulationTooLow.Rule, InsulationTooLow.Find),
        (PolarityTestFailed.Rule, PolarityTestFailed.Find),
        (TouchLimitExceeded.Rule, TouchLimitExceeded.Find),
        (TripTimeOutside.Rule, TripTimeOutside.Find),
    ];

    private static readonly (Rule Rule, Action<Visit, ICollection<Finding>> Find)[] OnReadings =
    [
        (DriverAtLimit.Rule, DriverReadAtLimit.Find),
        (NoReadingSinceRepair.Rule, NoReadingSinceRepair.Find),
        (ReadingDrifts.Rule, ReadingDrifts.Find),
        (ReadingOutside.Rule, ReadingOutside.Find),
    ];

    /// <summary>Every rule, by id.</summary>
    public static IReadOnlyList<Rule> All { get; } =
    [
        .. OnDucts.Select(entry => entry.Rule)
            .Concat(OnCables.Select(entry => entry.Rule))
            .Concat(OnBoxes.Select(entry => entry.Rule))
            .Concat(OnCircuits.Select(entry => entry.Rule))
            .Concat(OnReadings.Select(entry => entry.Rule))
            .Distinct()
            .OrderBy(rule => rule.Id, StringComparer.Ordinal),
    ];

    /// <summary>What the rules find on a duct.</summary>
    public static IReadOnlyList<Finding> FindOn(DuctState duct) => FindOn(duct, OnDucts);

    /// <summary>What the rules find on a cable.</summary>
    public static IReadOnlyList<Finding> FindOn(CableState cable) => FindOn(cable, OnCables);

    /// <summary>What the rules find on a box.</summary>
    public static IReadOnlyList<Finding> FindOn(BoxState box) => FindOn(box, OnBoxes);

    /// <summary>What the rules find on a circuit without its readings.</summary>
    public static IReadOnlyList<Finding> FindOn(CircuitState circuit) => FindOn(circuit, OnCircuits);

    /// <summary>Adds what the rules find on the readings of a circuit: of the latest visit, and over months.</summary>
    public static void FindOn(Visit visit, ICollection<Finding> found)
    {
        foreach (var (_, find) in OnReadings) find(visit, found);
    }

    private static IReadOnlyList<Finding> FindOn<T>(T state, (Rule Rule, Action<T, ICollection<Finding>> Find)[] rules)
    {
        var found = new List<Finding>();
        foreach (var (_, find) in rules) find(state, found);
        return FindingOrder.Sorted(found);
    }
}

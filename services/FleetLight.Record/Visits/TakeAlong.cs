using FleetLight.Contracts.Views;
using FleetLight.Record.Rules.Boxes;
using FleetLight.Record.Rules.Cables;
using FleetLight.Record.Rules.Circuits;
using FleetLight.Record.Rules.Ducts;

namespace FleetLight.Record.Visits;

/// <summary>
/// Works out what to take along on a visit: from what the rules found, from what would explain the circuits' readings, and from
/// what is built.
/// </summary>
public static class TakeAlong
{
    private static readonly Dictionary<string, Action<Finding, TakeAlongList>> ByRule = new(StringComparer.Ordinal)
    {
        [CableWithWaterOrGas.Rule.Id] = DuctNeeds.OfWaterOrGas,
        [DuctBendsTooMany.Rule.Id] = DuctNeeds.PullPoint,
        [DuctColourNotOfService.Rule.Id] = DuctNeeds.Marking,
        [DuctLeftOpen.Rule.Id] = DuctNeeds.Plugs,
        [DuctOverfull.Rule.Id] = DuctNeeds.AnotherDuct,
        [DuctUnlabelled.Rule.Id] = DuctNeeds.Labels,
        [DuctWallNotAsCalled.Rule.Id] = DuctNeeds.NewDuct,
        [MainsDuctShallow.Rule.Id] = DuctNeeds.Cover,
        [NoStringLeft.Rule.Id] = DuctNeeds.String,
        [StringPushedTooFar.Rule.Id] = DuctNeeds.String,
        [CableUnlabelled.Rule.Id] = CableNeeds.Labels,
        [CableWithoutDuct.Rule.Id] = OfTheRecord,
        [CoreOfAnotherCircuit.Rule.Id] = CableNeeds.Proving,
        [PolaritySleeveMissing.Rule.Id] = CableNeeds.MissingSleeves,
        [PolaritySleeveWrong.Rule.Id] = CableNeeds.WrongSleeves,
        [BoxCannotBreathe.Rule.Id] = BoxNeeds.Breathing,
        [BoxNotClosed.Rule.Id] = BoxNeeds.Closing,
        [GroundBoxNotGelFilled.Rule.Id] = BoxNeeds.Filling,
        [JointUnderFitting.Rule.Id] = BoxNeeds.JointAside,
        [MembraneWithoutStrainRelief.Rule.Id] = BoxNeeds.StrainRelief,
        [SeriesConnectorCrowded.Rule.Id] = BoxNeeds.Uncrowding,
        [DesignCannotWork.Rule.Id] = OfTheDesign,
        [DriverAtLimit.Rule.Id] = CircuitNeeds.AnotherDriver,
        [DriverBelowRange.Rule.Id] = CircuitNeeds.AnotherDriver,
        [EnergisedUntested.Rule.Id] = CircuitNeeds.DeadTests,
        [ExtraLowVoltageExceeded.Rule.Id] = CircuitNeeds.AnotherDriver,
        [FaultOpen.Rule.Id] = CircuitNeeds.Explained,
        [FittingNotAsDesigned.Rule.Id] = CircuitNeeds.DesignedFitting,
        [FittingUnlit.Rule.Id] = CircuitNeeds.DarkFitting,
        [FittingVoltsLow.Rule.Id] = OfTheDesign,
        [HandedOverIncomplete.Rule.Id] = OfTheRecord,
        [HandedOverWithOpenFaults.Rule.Id] = CircuitNeeds.Explained,
        [InsulationTooLow.Rule.Id] = CircuitNeeds.Insulation,
        [NoReadingSinceRepair.Rule.Id] = CircuitNeeds.Reading,
        [PolarityTestFailed.Rule.Id] = CircuitNeeds.Polarity,
        [ReadingDrifts.Rule.Id] = CircuitNeeds.Explained,
        [ReadingOutside.Rule.Id] = CircuitNeeds.Explained,
        [TouchLimitExceeded.Rule.Id] = CircuitNeeds.Enclosing,
        [TripTimeOutside.Rule.Id] = CircuitNeeds.ResidualCurrentDevice,
    };

    /// <summary>Whether it is known what a rule's findings ask for.</summary>
    public static bool Knows(string rule) => ByRule.ContainsKey(rule);

    /// <summary>What to take along.</summary>
    /// <param name="alerts">The visit's alerts; those that are cleared ask for nothing.</param>
    /// <param name="ground">What is known of the things that they are about.</param>
    public static TakeAlongView Of(IReadOnlyList<VisitAlert> alerts, TakeAlongGround ground)
    {
        ArgumentNullException.ThrowIfNull(alerts);
        ArgumentNullException.ThrowIfNull(ground);
        var list = new TakeAlongList(ground);
        foreach (var alert in alerts)
        {
            if (alert.Finding is not { } finding || alert.Standing == AlertStanding.Cleared) continue;
            list.Begin(alert.Id);
            if (ByRule.TryGetValue(finding.Rule, out var add)) add(finding, list);
            else list.Open($"What the rule {finding.Rule} asks for is not known: {finding.Remedy}");
        }

        return list.ToView();
    }

    private static void OfTheRecord(Finding finding, TakeAlongList list) =>
        list.Open($"A matter of the record, for which nothing has to be taken along: {finding.Remedy}");

    private static void OfTheDesign(Finding finding, TakeAlongList list) =>
        list.Open($"What to take along hangs on the design, which has to be changed first: {finding.Remedy}");
}

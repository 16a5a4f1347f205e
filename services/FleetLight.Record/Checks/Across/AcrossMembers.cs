using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;

namespace FleetLight.Record.Checks.Across;

/// <summary>What the members of a record must say together, by its type.</summary>
internal static class AcrossMembers
{
    private static readonly Dictionary<Type, Delegate> ByType = new()
    {
        [typeof(GeoPoint)] = (Action<GeoPoint, CheckRun>)GeometryRules.Check,
        [typeof(GeoLine)] = (Action<GeoLine, CheckRun>)GeometryRules.Check,
        [typeof(SiteOpened)] = (Action<SiteOpened, CheckRun>)SiteRules.Check,
        [typeof(CoreAssignment)] = (Action<CoreAssignment, CheckRun>)CableRules.Check,
        [typeof(CablePulled)] = (Action<CablePulled, CheckRun>)CableRules.Check,
        [typeof(HeldConductor)] = (Action<HeldConductor, CheckRun>)JointRules.Check,
        [typeof(DriverDesign)] = (Action<DriverDesign, CheckRun>)DesignRules.Check,
        [typeof(RunDesign)] = (Action<RunDesign, CheckRun>)DesignRules.Check,
        [typeof(CircuitDesigned)] = (Action<CircuitDesigned, CheckRun>)DesignRules.Check,
        [typeof(ReadingTaken)] = (Action<ReadingTaken, CheckRun>)MeasurementRules.Check,
        [typeof(TestMade)] = (Action<TestMade, CheckRun>)MeasurementRules.Check,
        [typeof(DriverInput)] = (Action<DriverInput, CheckRun>)CalculationRules.Check,
        [typeof(RunInput)] = (Action<RunInput, CheckRun>)CalculationRules.Check,
        [typeof(StretchInput)] = (Action<StretchInput, CheckRun>)CalculationRules.Check,
        [typeof(ExpectedRequest)] = (Action<ExpectedRequest, CheckRun>)CalculationRules.Check,
        [typeof(DriftRequest)] = (Action<DriftRequest, CheckRun>)CalculationRules.Check,
        [typeof(JudgingSettings)] = (Action<JudgingSettings, CheckRun>)JudgingRules.Check,
        [typeof(Tape)] = (Action<Tape, CheckRun>)PositionRules.Check,
        [typeof(BaselineOffset)] = (Action<BaselineOffset, CheckRun>)PositionRules.Check,
        [typeof(ReferencePointRecorded)] = (Action<ReferencePointRecorded, CheckRun>)PositionRules.Check,
        [typeof(PlaceMeasured)] = (Action<PlaceMeasured, CheckRun>)PositionRules.Check,
        [typeof(PhotoTaken)] = (Action<PhotoTaken, CheckRun>)PhotoRules.Check,
        [typeof(FactCorrected)] = (Action<FactCorrected, CheckRun>)CorrectionRules.Check,
        [typeof(ThingsJoined)] = (Action<ThingsJoined, CheckRun>)CorrectionRules.Check,
    };

    /// <summary>The rules of a type, where there are any.</summary>
    public static Action<T, CheckRun>? Of<T>() => ByType.GetValueOrDefault(typeof(T)) as Action<T, CheckRun>;
}

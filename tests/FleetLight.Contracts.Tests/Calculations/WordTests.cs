using FleetLight.Contracts.Calculations;
using FleetLight.Electrics;

namespace FleetLight.Contracts.Tests.Calculations;

/// <summary>Every word that the electrics answer with is a word of the contract.</summary>
public class WordTests
{
    // What a request got wrong is a problem and no answer.
    private static readonly RefusalReason[] OfRequests =
    [
        RefusalReason.DriverRatingMissing, RefusalReason.NoFittings, RefusalReason.OutOfRange, RefusalReason.NonStandardArea,
        RefusalReason.BadId, RefusalReason.NotConnected, RefusalReason.RingNotSupported,
    ];

    [Fact]
    public void No_word_is_missing() => Nothing.In(
    [
        .. Missing<UncertaintySource, BudgetSource>(),
        .. Missing<NoteCode, RemarkCode>(),
        .. Missing<VerdictKind, ReadingVerdict>(),
        .. Missing<VerdictReason, ReadingVerdictReason>(),
        .. Missing<TouchClass, TouchLimit>(),
        .. Missing<VoltageBasis, TouchBasis>(),
        .. Missing<DuctFillRule, FillRule>(), .. Missing<FillRule, DuctFillRule>(),
        .. Missing<PullRule, PermittedPull>(), .. Missing<PermittedPull, PullRule>(),
        .. Missing<PullGrip, RopeGrip>(), .. Missing<RopeGrip, PullGrip>(),
        .. Missing<PullArmour, CableArmour>(), .. Missing<CableArmour, PullArmour>(),
        .. Missing<PullFrom, PullingEnd>(),
        .. Missing<FaultKind, KindOfFault>().Except([nameof(FaultKind.OwnDefinition)]), .. Missing<KindOfFault, FaultKind>(),
        .. Missing<PlaceAccess, ReachOfPlace>(), .. Missing<ReachOfPlace, PlaceAccess>(),
        .. Missing<StopReason, StopMeasuringReason>(),
        .. Missing<DriftKind, DriftShows>(),
        .. Missing<DriftRefusal, NoDriftReason>().Except([nameof(DriftRefusal.NothingGiven)]),
        .. Missing<MayBeAdded, MayAdd>(),
        .. Missing<HeadroomLimit, AddingLimit>(),
        .. Missing<StepKind, AddingStep>(),
        .. Missing<MeasuredAs, MeasuredQuantity>(),
        .. Missing<MeasuredQuantity, MeasuredAs>(),
        .. Missing<RefusalReason, NoAnswerReason>().Except(OfRequests.Select(reason => reason.ToString())),
    ]);

    private static IEnumerable<string> Missing<TFrom, TTo>()
        where TFrom : struct, Enum
        where TTo : struct, Enum => Enum.GetNames<TFrom>().Except(Enum.GetNames<TTo>());
}

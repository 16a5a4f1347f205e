using System.Collections.Immutable;
using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Electrics;
using FleetLight.Record.Files;

namespace FleetLight.Record.Calculations.Mapping;

/// <summary>What a diagnosis looks for and what it finds.</summary>
internal static class DiagnosisMapping
{
    /// <summary>What to look for.</summary>
    public static DiagnosisOptions Options(LookForInput? given)
    {
        var defaults = DiagnosisOptions.Default;
        return given is null
            ? defaults
            : defaults with
            {
                CatalogueWatts = given.CatalogueWatts is { } watts ? [.. watts] : defaults.CatalogueWatts,
                DriverMilliamps = given.DriverMilliamps is { } milliamps ? [.. milliamps] : defaults.DriverMilliamps,
                DriverVoltsDc = given.DriverVolts is { } volts ? [.. volts] : defaults.DriverVoltsDc,
                // Of two priors of one fault the later one counts.
                Priors = ImmutableDictionary.CreateRange<FaultKind, double>([]).SetItems((given.Priors ?? []).Select(
                    prior => KeyValuePair.Create(WireWord.Of<KindOfFault, FaultKind>(prior.Fault), prior.Prior))),
            };
    }

    /// <summary>What was found.</summary>
    public static DiagnosisFindings Findings(DiagnosisResult result) => new()
    {
        ReadingsUsed = result.ReadingsUsed,
        AsDesignedPercent = 100 * result.AsDesignedProbability,
        Explanations = [.. result.Explanations.Select(Explanation)],
        Groups =
        [
            .. result.Groups.Select(group => new GroupAnswer
            {
                Number = group.Number,
                ProbabilityPercent = 100 * group.Probability,
                Members = [.. group.Members],
                Says = group.Says,
            }),
        ],
    };

    private static ExplanationAnswer Explanation(FaultExplanation found) => new()
    {
        Fault = WireWord.Of<FaultKind, KindOfFault>(found.Kind),
        Title = found.Title,
        ProbabilityPercent = 100 * found.Probability,
        Group = found.Group,
        What = found.What,
        WhatToDo = found.WhatToDo,
        AlsoShows = found.AlsoShows,
        FittingIds = [.. found.FittingIds],
        RunIds = [.. found.RunIds],
        Places = [.. found.NodeIds],
        Watts = found.Watts,
        BestFitWatts = found.BestFitWatts,
        JointOhms = found.JointOhms,
        LeakOhms = found.LeakOhms,
        LengthFactor = found.LengthFactor,
        AreaSquareMillimetres = found.AreaSquareMillimetres,
        DriverMilliamps = found.DriverMilliamps,
        DriverVoltsDc = found.DriverVoltsDc,
        MeterFactor = found.MeterFactor,
        Misfit = found.Misfit,
        Predicted =
        [
            .. found.Predicted.Select(predicted => new PredictedAnswer
            {
                Place = predicted.Place,
                Quantity = WireWord.Of<MeasuredQuantity, MeasuredAs>(predicted.Quantity),
                Measured = predicted.Measured,
                Value = predicted.Value,
                StandardUncertainty = predicted.StandardUncertainty,
            }),
        ],
        Elsewhere =
        [
            .. found.Elsewhere.Select(elsewhere => new PredictedElsewhereAnswer
            {
                Place = elsewhere.Place,
                Quantity = WireWord.Of<MeasuredQuantity, MeasuredAs>(elsewhere.Quantity),
                Value = elsewhere.Value,
                StandardUncertainty = elsewhere.StandardUncertainty,
                AsDesigned = elsewhere.AsDesigned,
            }),
        ],
    };
}

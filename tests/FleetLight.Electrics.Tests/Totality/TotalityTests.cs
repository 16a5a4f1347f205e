using System.Collections.Immutable;
using System.Text.Json;
using FsCheck.Fluent;
using FsCheck.Xunit;

namespace FleetLight.Electrics.Tests.Totality;

/// <summary>
/// Whatever goes in, an answer or a named refusal comes out, never an exception, and it can be stored.
/// </summary>
public class TotalityTests
{
    [Property(Arbitrary = [typeof(Hostile)], MaxTest = 3000)]
    public bool Expectations_are_total(CircuitModel model, Assumptions assumptions)
    {
        var outcome = Expected.Of(model, assumptions);
        if (outcome is CannotExpect refusal) return refusal.Text.Length > 0 && refusal.Field.Length > 0;
        var readings = (ExpectedReadings)outcome;
        Assert.NotEmpty(JsonSerializer.Serialize(readings));
        return readings.DriverVoltsDc.Low95 <= readings.DriverVoltsDc.Best
            && readings.DriverVoltsDc.Best <= readings.DriverVoltsDc.High95;
    }

    [Property(Arbitrary = [typeof(Hostile)], MaxTest = 3000)]
    public bool Verdicts_are_total(CircuitModel model, MeasuredReading reading)
    {
        var verdict = Verdicts.Judge(Expected.Of(model), reading);
        Assert.NotEmpty(JsonSerializer.Serialize(verdict));
        return verdict.Text.Length > 0;
    }

    [Property(Arbitrary = [typeof(Hostile)], MaxTest = 1000)]
    public bool Diagnoses_are_total_and_their_probabilities_sum_to_one_at_most(
        CircuitModel model, MeasuredReading[] readings)
    {
        var result = Electrics.Diagnosis.Explain(model, readings);
        Assert.NotEmpty(JsonSerializer.Serialize(result));
        return result.Explanations.Count(e => e.Kind == FaultKind.NoneOfThese) == 1
            && result.Explanations.All(e => e.Probability is >= 0 and <= 1)
            && result.Explanations.All(e => e.What.Length > 0 && e.WhatToDo.Length > 0)
            && result.Explanations.Sum(e => e.Probability) <= 1 + 1e-9;
    }

    [Fact]
    public void The_generator_reaches_answers_and_most_refusals()
    {
        var outcomes = Hostile.Circuits().Generator.Sample(4000).Select(m => Expected.Of(m)).ToList();
        Assert.InRange(outcomes.Count(o => o is ExpectedReadings), 200, 3800);
        Assert.True(outcomes.OfType<CannotExpect>().Select(r => r.Reason).Distinct().Count() >= 7);
    }

    [Fact]
    public void Nothing_at_all_is_answered()
    {
        Assert.IsType<CannotExpect>(Expected.Of(null));
        Assert.Equal(FaultKind.NoneOfThese, Assert.Single(Electrics.Diagnosis.Explain(null, null).Explanations).Kind);
        Assert.Equal(FaultKind.AsDesigned, Electrics.Diagnosis.Explain(Some.Series(1.6), null).Explanations[0].Kind);
    }

    [Fact]
    public void Options_of_nonsense_leave_an_answer()
    {
        var options = new DiagnosisOptions
        {
            CatalogueWatts = [double.NaN, -1, double.PositiveInfinity],
            DriverMilliamps = default,
            DriverVoltsDc = [double.NaN],
            Priors = ImmutableDictionary<FaultKind, double>.Empty.Add(FaultKind.AsDesigned, double.NaN)
                .Add(FaultKind.NoneOfThese, -1).Add(FaultKind.OpenLoop, double.PositiveInfinity),
        };
        foreach (var model in new[] { Some.Series(1.6, 1.6), Some.SixNodeTree() })
        {
            var found = Electrics.Diagnosis.Explain(model, [Some.DriverVolts(5)], options).Explanations;
            Assert.Contains(found, e => e.Kind == FaultKind.NoneOfThese);
            Assert.All(found, e => Assert.InRange(e.Probability, 0, 1));
        }
    }

    [Fact]
    public void A_circuit_too_large_for_a_diagnosis_is_refused_by_name()
    {
        var model = Some.Series([.. Enumerable.Repeat(1.0, Electrics.Diagnosis.MostParts + 1)]);
        Assert.Equal(RefusalReason.OutOfRange, Electrics.Diagnosis.Explain(model, []).Refusal!.Reason);
    }
}

using System.Collections.Immutable;
using System.Text.Json;
using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.Diagnoses;

/// <summary>The catalogue: complete, stated, and open to more.</summary>
public class FaultCatalogueTests
{
    private static readonly FaultDefinition Mouse = new(FaultKind.OwnDefinition, "A mouse in the driver", 0.05)
    {
        AlsoShows = "A smell.",
        WhatToDo = "Switch off and look.",
        Cases = _ => [new FaultCase(1) { Changes = [new DriverGives(123)], Figure = 123 }],
        Says = f => $"A mouse lets {f.FigureText} mA through.",
    };

    [Fact]
    public void Each_kind_stands_in_the_catalogue_once_with_words_and_a_prior()
    {
        var kinds = FaultCatalogue.Default.Select(fault => fault.Kind).ToList();
        Assert.Equal(Enum.GetValues<FaultKind>().Except([FaultKind.OwnDefinition]).Order(), kinds.Order());
        Assert.All(FaultCatalogue.Default, fault =>
        {
            Assert.InRange(fault.Prior, 1e-4, 1);
            Assert.NotEmpty(fault.Title);
            Assert.NotEmpty(fault.WhatToDo);
            Assert.All(fault.Drives, drive => Assert.NotEmpty(fault.AlsoShowsOn(drive)));
        });
    }

    [Theory]
    [InlineData(FaultKind.FittingShorted)]
    [InlineData(FaultKind.FittingOpen)]
    [InlineData(FaultKind.FittingReversed)]
    [InlineData(FaultKind.FittingForOtherDrive)]
    [InlineData(FaultKind.OpenLoop)]
    [InlineData(FaultKind.ShortBetweenCores)]
    [InlineData(FaultKind.HighResistanceJoint)]
    [InlineData(FaultKind.WaterInJoint)]
    [InlineData(FaultKind.SupplyReversed)]
    public void Work_on_the_circuit_begins_with_isolation(FaultKind kind) =>
        Assert.Contains("Switch the driver off at the mains and prove it dead first.", Text(kind), StringComparison.Ordinal);

    [Fact]
    public void The_mains_side_is_for_licensed_persons_and_digging_begins_with_location()
    {
        Assert.Contains("licensed person", Text(FaultKind.DriverNoOutput), StringComparison.Ordinal);
        foreach (var kind in new[] { FaultKind.OpenLoop, FaultKind.ShortBetweenCores, FaultKind.WaterInJoint })
            Assert.Contains("buried services located", Text(kind), StringComparison.Ordinal);
    }

    [Fact]
    public void Without_readings_the_posterior_is_the_prior()
    {
        var all = FaultCatalogue.Default.Sum(fault => fault.Prior);
        foreach (var model in new[] { Some.Series(1.6, 1.6, 2), Some.SixNodeTree() })
        {
            var circuit = Electrics.Diagnosis.Weigh(model, [], null, null, out _)!;
            var weighed = circuit.Hypotheses.GroupBy(h => h.Kind).ToDictionary(g => g.Key, g => g.Sum(h => h.Probability));
            Assert.Equal(1, weighed.Values.Sum(), 9);
            // A series loop without runs has no cable that could be longer, and at some resistances and volts a
            // constant-voltage circuit has no operating point: such shares of the prior fall to the others.
            foreach (var fault in FaultCatalogue.Default.Where(fault => weighed.ContainsKey(fault.Kind)))
            {
                var least = model.Drive == DriveKind.ConstantCurrent ? 0.9 : 0.5;
                Assert.InRange(weighed[fault.Kind], least * fault.Prior / all, 1.15 * fault.Prior / all);
            }
        }
    }

    [Fact]
    public void A_prior_may_be_overridden_and_a_fault_left_out()
    {
        var options = new DiagnosisOptions
        {
            Priors = ImmutableDictionary<FaultKind, double>.Empty
                .Add(FaultKind.OneFittingTooMany, 0.5).Add(FaultKind.FittingOfOtherWattage, 0),
        };
        var found = Electrics.Diagnosis.Explain(Some.Series(1.6, 1.6), [Some.DriverVolts(11.86)], options).Explanations;
        Assert.Equal(FaultKind.OneFittingTooMany, found[0].Kind);
        Assert.DoesNotContain(found, e => e.Kind == FaultKind.FittingOfOtherWattage);
    }

    [Fact]
    public void A_caller_may_add_a_fault()
    {
        var options = new DiagnosisOptions { MoreFaults = [Mouse] };
        var found = Electrics.Diagnosis.Explain(
            Some.Series(1.6, 1.6),
            [new("driver", MeasuredQuantity.Milliamps, 123), Some.DriverVolts(8.2)], options).Explanations[0];
        Assert.Equal(FaultKind.OwnDefinition, found.Kind);
        Assert.Equal("A mouse in the driver", found.Title);
        Assert.Equal("A mouse lets 123 mA through.", found.What);
    }

    [Fact]
    public void Faults_of_nonsense_leave_an_answer()
    {
        FaultDefinition Bad(params FaultCase[] cases) =>
            new(FaultKind.OwnDefinition, "", 0.5) { Cases = _ => cases, Drives = [DriveKind.ConstantCurrent] };
        var options = new DiagnosisOptions
        {
            MoreFaults =
            [
                null!, Bad(null!), Bad(new FaultCase(double.NaN)), Bad(new FaultCase(1) { Changes = default }),
                Bad(new FaultCase(1) { Changes = [null!] }), Bad(new FaultCase(1) { Changes = [new FittingOpen(99)] }),
                Bad(new FaultCase(1) { Fittings = [99], Runs = [77], Nodes = default, Changes = [new DriverDead()] }),
                Bad(new FaultCase(1) { Free = new FreeFigure(2, 1, true, _ => []) }),
                Bad(new FaultCase(1) { Free = new FreeFigure(1, 2, true, _ => default) }),
                Bad(new FaultCase(1) { Reading = 99, Changes = [new MeterLeadsReversed()] }),
                Mouse with { Prior = double.NaN }, Mouse with { Drives = default },
            ],
        };
        var found = Electrics.Diagnosis.Explain(Some.Series(1.6, 1.6), [Some.DriverVolts(0)], options).Explanations;
        Assert.Contains(found, e => e.Kind == FaultKind.NoneOfThese);
        Assert.All(found, e => Assert.NotEmpty(e.What));
    }

    [Fact]
    public void Options_survive_storage()
    {
        var options = new DiagnosisOptions
        {
            CatalogueWatts = [3, 5],
            Priors = ImmutableDictionary<FaultKind, double>.Empty.Add(FaultKind.WaterInJoint, 0.2),
        };
        var back = JsonSerializer.Deserialize<DiagnosisOptions>(JsonSerializer.Serialize(options))!;
        Assert.Equal([3, 5], back.CatalogueWatts);
        Assert.Equal(0.2, back.Priors[FaultKind.WaterInJoint]);
        Assert.NotEmpty(JsonSerializer.Serialize(FaultCatalogue.Default));
    }

    private static string Text(FaultKind kind) => FaultCatalogue.Default.Single(fault => fault.Kind == kind).WhatToDo;
}

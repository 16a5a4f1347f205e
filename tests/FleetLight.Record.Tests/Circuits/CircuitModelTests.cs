using System.Text.Json;
using FleetLight.Contracts;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Calculations;
using FleetLight.Record.Checks;
using FleetLight.Record.Circuits;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Circuits;

/// <summary>
/// A circuit as built that is handed out and asked about again reads what its status says. The circuits' figures are common
/// practice, no source.
/// </summary>
public sealed class CircuitModelTests
{
    // The status shows four decimals.
    private const double Shown = 0.00006;

    public static TheoryData<string> Circuits => [.. Made.Keys];

    private static Dictionary<string, CircuitDesigned> Made { get; } = new(StringComparer.Ordinal)
    {
        ["series"] = CircuitFacts.Designed(driver: CircuitFacts.Driver(least: 3, most: 60, watts: 30, open: 70, tolerance: 3)),
        ["series without runs"] = CircuitFacts.Designed(runs: []),
        ["series with tails, joints, another stated current and a single-core loop"] = CircuitFacts.Designed(
            driver: CircuitFacts.Driver(milliamps: 500),
            fittings:
            [
                CircuitFacts.Fitting("F1", 2.6, 10) with { StatedMilliamps = 350, BypassDiode = true, Description = "spike spot", Tail = Tail(2) },
                CircuitFacts.Fitting("F2"),
            ],
            runs:
            [
                CircuitFacts.Run("R1", "driver", "F1", 40, loop: 1) with { JointOhms = 0.12, Surroundings = RunSurroundings.InAir },
                CircuitFacts.Run("R2", "F1", "F2", 25, 2.5) with { Surroundings = RunSurroundings.WarmBox },
            ]),
        ["12 V, branched"] = Branched(12),
        ["24 V, branched"] = Branched(24),
        ["24 V, a ring"] = CircuitFacts.Designed(
            drive: DriveKind.ConstantVoltage,
            fittings: [CircuitFacts.Fitting("F1", 12) with { Tail = Tail(5) }, CircuitFacts.Fitting("F2", 20)],
            runs:
            [
                CircuitFacts.Run("R1", "driver", "B1", 20, 2.5), CircuitFacts.Run("R2", "B1", "F1", 15),
                CircuitFacts.Run("R3", "F1", "F2", 30) with { JointOhms = 0.05 }, CircuitFacts.Run("R4", "F2", "B1", 18),
            ]),
    };

    [Theory]
    [MemberData(nameof(Circuits))]
    public void What_it_should_read_is_worked_out_the_same_from_what_is_handed_out(string name) =>
        AssertReadsTheSame(Job.Of(Made[name]));

    [Fact]
    public void What_was_built_otherwise_than_designed_is_handed_out_as_built() => AssertReadsTheSame(Job.Of(
        Made["series"],
        Facts.CablePulled(length: 200, area: 0.5, conductorClass: ConductorClass.Class2),
        CircuitFacts.Fixed("F1", watts: 2.6),
        CircuitFacts.Connected(CircuitFacts.Driver(milliamps: 500, tolerance: 7))));

    [Theory]
    [MemberData(nameof(Circuits))]
    public void The_settings_of_the_organisation_go_with_it(string name)
    {
        var job = new Job();
        job.Works.Judging = new(4, new JudgingSettings
        {
            BuriedCelsius = 35,
            InAirCelsius = -10,
            WarmBoxCelsius = 70,
            FalseAlarmPercent = 1.7,
            MissedFaultPercent = 12.3,
            AsDesignedPercent = 97.1,
            SmallestDifferencePercent = 3,
            CatalogueWatts = [2, 7],
            Priors = [new PriorInput { Fault = Contracts.Calculations.KindOfFault.OpenLoop, Prior = 0.02 }],
            Effort = new EffortInput { DigMinutes = 90 },
            DriverMilliamps = [180],
            DriverVolts = [48],
            StopAtPercent = 80,
        });

        var model = AssertReadsTheSame(job.Tells(Made[name]));

        Assert.Equal(4, model.SettingsVersion);
        Assert.Equal(
            (1.7, 12.3, 97.1, 3), (model.Rule.FalseAlarmPercent, model.Rule.MissedFaultPercent, model.Rule.AsDesignedPercent, model.Rule.SmallestDifferencePercent));
        Assert.Equal([2, 7], model.LookFor.CatalogueWatts!);
        Assert.Equal([180, 48], [.. model.LookFor.DriverMilliamps!, .. model.LookFor.DriverVolts!]);
        Assert.Equal(80, model.EnoughPercent);
        Assert.Equal((90, 2), (model.Effort.DigMinutes, model.Effort.WalkMinutes));
        Assert.Equal([new PriorInput { Fault = Contracts.Calculations.KindOfFault.OpenLoop, Prior = 0.02 }], model.LookFor.Priors!);
    }

    [Theory]
    [InlineData(9.15)]
    [InlineData(9.9)]
    [InlineData(11.86)]
    public void A_reading_is_judged_and_explained_the_same(double volts)
    {
        var job = Job.Of(Made["series"], CircuitFacts.Reading(volts));
        var model = Model(job);
        ReadingInput[] readings = [new() { Place = "driver", Quantity = Contracts.Calculations.MeasuredAs.VoltsDc, Value = volts }];

        var verdict = CalculateVerdict.Answer(new()
        {
            Circuit = model.Circuit!,
            Assumptions = model.Assumptions,
            Rule = model.Rule,
            Readings = readings,
        }).Answer!.Verdicts.Single();
        var next = CalculateNextMeasurement.Answer(new()
        {
            Circuit = model.Circuit!,
            Assumptions = model.Assumptions,
            LookFor = model.LookFor,
            EnoughPercent = model.EnoughPercent,
            Effort = model.Effort,
            Places = [.. model.Places!],
            Readings = readings,
        }).Answer!;

        Assert.Equal(job.Circuit.Verdict.ToString(), verdict.Verdict.ToString());
        Assert.Equal(job.Circuit.LastReadings[0].ProbabilityAsDesigned!.Value, verdict.AsDesignedPercent!.Value / 100, Shown);
        if (job.Circuit.NextReadings is [var first, ..])
        {
            Assert.Equal(first.Says, next.Candidates[0].Text);
            Assert.Equal(first.Bits, next.Candidates[0].Bits, 0.006);
        }
        else
        {
            Assert.Equal(CircuitVerdict.Within, job.Circuit.Verdict);
        }
    }

    [Fact]
    public void What_is_missing_is_said()
    {
        var none = Model(Job.Of(CircuitFacts.Reading(9)));
        var torn = Job.Of(CircuitFacts.Designed(
            drive: DriveKind.ConstantVoltage, runs: [CircuitFacts.Run("R1", "driver", "F1")]));

        Assert.Null(none.Circuit);
        Assert.Equal(["The design of the circuit is not known yet."], none.Missing);
        Assert.Equal([torn.Circuit.ExpectedWhyNot!], Model(torn).Missing);
        Assert.NotNull(Model(torn).Circuit);
    }

    private static CircuitDesigned Branched(double volts) => CircuitFacts.Designed(
        drive: DriveKind.ConstantVoltage,
        driver: CircuitFacts.Driver(milliamps: null, volts: volts, watts: 100, tolerance: 2),
        fittings:
        [
            CircuitFacts.Fitting("F1", 4, least: 8),
            CircuitFacts.Fitting("F2", 6) with { Load = LoadKind.Resistive },
            CircuitFacts.Fitting("F3", 3) with { Load = LoadKind.ConstantCurrent, Tail = Tail(3) },
        ],
        runs:
        [
            CircuitFacts.Run("R1", "driver", "B1", 30, 2.5), CircuitFacts.Run("R2", "B1", "F1"),
            CircuitFacts.Run("R3", "B1", "F2", 12) with { JointOhms = 0.08 }, CircuitFacts.Run("R4", "F2", "F3", 8),
        ]);

    private static TailDesign Tail(double metres) =>
        new() { LengthMetres = metres, AreaSquareMillimetres = 0.75, ConductorClass = ConductorClass.Class5 };

    private static CircuitModelView Model(Job job) => CircuitModels.Of(job.Works.BasisOf(Facts.Circuit));

    // As it travels: out as JSON, in as a request that is read strictly and checked.
    private static CircuitModelView AssertReadsTheSame(Job job)
    {
        var model = Model(job);
        Assert.Empty(model.Missing);
        var asked = new ExpectedRequest { Circuit = model.Circuit!, Assumptions = model.Assumptions };
        var read = JsonSerializer.Deserialize<ExpectedRequest>(JsonSerializer.Serialize(asked, WireJson.Lenient), WireJson.Strict)!;
        Assert.Empty(RequestCheck.Check(read));
        Assert.Empty(RequestCheck.Check(model.LookFor));
        Assert.Empty(RequestCheck.Check(model.Rule));

        var answer = CalculateExpected.Answer(read).Answer!;

        Assert.Equal(answer.ModelVersion, model.ModelVersion);
        Assert.NotEmpty(job.Circuit.Expected);
        Assert.All(job.Circuit.Expected, shown =>
        {
            var value = Find(answer.Expected!, shown);
            Assert.Equal(shown.Expected.Value, value.Value, Shown);
            Assert.Equal(shown.Expected.StandardUncertainty, value.StandardUncertainty, Shown);
            Assert.Equal(shown.Expected.Low, value.Low, Shown);
            Assert.Equal(shown.Expected.High, value.High, Shown);
        });
        return model;
    }

    private static EstimatedValue Find(ExpectedFigures figures, ExpectedReading shown) => (shown.Place, shown.Quantity) switch
    {
        (ReadingPlaceKind.Driver, ReadingQuantity.VoltsDc) => figures.DriverVoltsDc,
        (ReadingPlaceKind.Driver, ReadingQuantity.Milliamps) => figures.DriverMilliamps,
        (ReadingPlaceKind.Driver, _) => figures.CableLoopOhms!,
        (ReadingPlaceKind.Fitting, _) => figures.Fittings.Single(fitting => fitting.FittingId == shown.PlaceId).VoltsDc,
        _ => figures.Places.Single(place => place.Place == shown.PlaceId).VoltsDc,
    };
}

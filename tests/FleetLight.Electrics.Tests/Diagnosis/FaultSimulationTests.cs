using FleetLight.Electrics.Tests.Uncertainties;

namespace FleetLight.Electrics.Tests.Diagnoses;

/// <summary>
/// Series circuits of 2 to 8 fittings built with one fault, with all that the design leaves open drawn at random,
/// and read at the driver with a meter that errs. The bounds are what was measured, less a margin: they keep the
/// diagnosis from getting worse.
/// </summary>
public class FaultSimulationTests
{
    private const int Circuits = 600;
    private static readonly double[] Catalogue = [1.0, 1.6, 2.0, 2.6, 3.2, 4.2];

    [Fact]
    public void A_healthy_circuit_is_seldom_taken_for_a_faulty_one()
    {
        var share = Share(11, (design, _) => design, (lead, _) => lead.Kind == FaultKind.AsDesigned);
        Assert.True(share >= 0.97, $"{share}");
    }

    [Fact]
    public void A_fitting_of_clearly_another_wattage_is_in_the_leading_group()
    {
        var share = Share(
            12,
            (design, draw) => Replace(design, draw.Next(design.Fittings.Length), 4.2),
            (e, _) => e.Kind == FaultKind.FittingOfOtherWattage && e.Watts is > 3 and < 6);
        Assert.True(share >= 0.9, $"{share}");
    }

    [Fact]
    public void A_wrong_driver_is_found()
    {
        var share = Share(13, (design, _) => WrongDriver(design, 700), (e, _) =>
            e.Kind == FaultKind.WrongDriverOutput && e.DriverMilliamps == 700);
        Assert.True(share >= 0.97, $"{share}");
    }

    [Fact]
    public void A_joint_of_40_ohms_is_found()
    {
        var share = Share(
            14,
            (design, _) => design with { Runs = design.Runs.Add(Some.Run("x", "y", 40 / 0.0266, 1.5)) },
            (e, _) => e.Kind == FaultKind.HighResistanceJoint && e.JointOhms is > 30 and < 50);
        Assert.True(share >= 0.9, $"{share}");
    }

    // Share of circuits in which an explanation of the leading group is the true one.
    private static double Share(
        int seed, Func<CircuitModel, Simulation, CircuitModel> build, Func<FaultExplanation, CircuitModel, bool> isTrue)
    {
        var draw = new Simulation(seed);
        var found = 0;
        for (var i = 0; i < Circuits; i++)
        {
            var design = Some.Series([.. Enumerable.Range(0, 2 + draw.Next(7)).Select(_ => Catalogue[draw.Next(3)])]);
            design = design with
            {
                Fittings = [.. design.Fittings.Select(f => f with { TolerancePercent = 5 })],
                Runs = [Some.Run("driver", "f1", 5 + draw.Next(50), 1.5)],
            };
            var readings = draw.ReadDriver(build(design, draw));
            var explanations = Electrics.Diagnosis.Explain(design, readings).Explanations;
            if (explanations.Any(e => e.Group == 1 && isTrue(e, design))) found++;
        }

        return found / (double)Circuits;
    }

    private static CircuitModel Replace(CircuitModel design, int at, double watts) =>
        design with { Fittings = design.Fittings.SetItem(at, design.Fittings[at] with { RatedWatts = watts }) };

    private static CircuitModel WrongDriver(CircuitModel design, double milliamps)
    {
        var ratio = milliamps / 350;
        var watts = ratio * LedCurve.Default.VoltsRatio(ratio);
        return design with
        {
            Driver = design.Driver with { RatedMilliamps = milliamps },
            Fittings = [.. design.Fittings.Select(f => f with { RatedWatts = f.RatedWatts * watts })],
        };
    }
}

using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Demo.Planning;

namespace FleetLight.Demo.Works;

/// <summary>Testing, connecting, energising, reading and handing over.</summary>
internal static class Commissioning
{
    /// <summary>Tests every circuit dead, connects and energises it, and reads it.</summary>
    public static void Prove(Job job)
    {
        foreach (var circuit in job.Site.Circuits)
        {
            var chance = Chance.Of(job.World.Seed, $"{circuit.Id} tests");
            TestDead(job, circuit, chance);
            job.Did(new DriverConnected { SiteId = job.Site.Id, CircuitId = circuit.Id, At = "cabinet", Position = job.Site.Cabinet.Point() });
            if (circuit.Design.MainsSide) TestMains(job, circuit, chance);
            var dark = circuit.Role == Role.Reversed;
            job.Did(new CircuitEnergised
            {
                SiteId = job.Site.Id,
                CircuitId = circuit.Id,
                UnlitFittingIds = dark ? [.. circuit.Design.Fittings.Select(fitting => fitting.FittingId)] : null,
            });
            Readings.Take(job.World, circuit, Crews.Rig, () => job.Clock.Step());
            if (dark)
            {
                job.Did(new FaultReported
                {
                    SiteId = job.Site.Id,
                    CircuitId = circuit.Id,
                    FaultId = $"{circuit.Id}-x1",
                    What = "The whole string stays dark.",
                });
            }
        }
    }

    /// <summary>Puts right what was recorded wrongly, and hands over what works.</summary>
    public static void HandOver(Job job)
    {
        foreach (var circuit in job.Site.Circuits)
        {
            if (circuit.Role == Role.LengthReplaced) CableWork.ReplaceLength(job, circuit);
            if (circuit.Role == Role.BoxUnderTwoIds) BoxWork.JoinBoxes(job, circuit);
        }

        job.Clock.NextMorning();
        foreach (var circuit in job.Site.Circuits.Where(circuit => circuit.Role != Role.Reversed))
            job.Did(Crews.Tablet, new CircuitHandedOver { SiteId = job.Site.Id, CircuitId = circuit.Id, Note = "Shown at dusk." });
    }

    private static void TestDead(Job job, CircuitPlan circuit, Chance chance)
    {
        var series = circuit.Design.Drive == DriveKind.ConstantCurrent;
        var ohms = Math.Round(job.World.Truth[circuit.Id].LoopOhms(job.Clock.Now), 2);
        if (series) Readings.Record(job.World, circuit, Crews.Rig, job.Clock.Step(), ReadingQuantity.LoopOhms);
        job.Did(Crews.Rig, Test(circuit, TestKind.InsulationResistance) with
        {
            NominalVolts = series ? circuit.Design.Driver.MostVolts : circuit.Design.Driver.RatedVolts,
            TestVolts = 250,
            Megohms = Math.Round(chance.Between(40, 900)),
        });
        job.Did(Crews.Rig, Test(circuit, TestKind.Continuity) with { Ohms = ohms });
        // A reversed fitting passes this test: the cable is right, the leads inside the fitting are not.
        job.Did(Crews.Rig, Test(circuit, TestKind.Polarity) with { PolarityRight = true });
    }

    private static void TestMains(Job job, CircuitPlan circuit, Chance chance)
    {
        job.Did(Crews.Rig, Mains(TestKind.InsulationResistance) with
        {
            NominalVolts = 230,
            TestVolts = 500,
            Megohms = Math.Round(chance.Between(150, 900)),
        });
        job.Did(Crews.Rig, Mains(TestKind.Continuity) with { Ohms = Math.Round(chance.Between(0.08, 0.4), 2) });
        job.Did(Crews.Rig, Mains(TestKind.Polarity) with { PolarityRight = true });
        job.Did(Crews.Rig, Mains(TestKind.ResidualCurrentDevice) with
        {
            RatedResidualMilliamps = 30,
            CurrentMultiple = 1,
            TripMilliseconds = Math.Round(chance.Between(18, 32), 1),
            DeviceType = ResidualCurrentDeviceType.General,
        });

        TestMade Mains(TestKind kind) => Test(circuit, kind) with { MainsSide = true };
    }

    private static TestMade Test(CircuitPlan circuit, TestKind kind) =>
        new() { SiteId = circuit.Design.SiteId, CircuitId = circuit.Id, Test = kind };
}

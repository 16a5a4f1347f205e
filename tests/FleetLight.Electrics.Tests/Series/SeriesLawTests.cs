using FleetLight.Electrics.Tests.Circuits;
using FsCheck;
using FsCheck.Xunit;

namespace FleetLight.Electrics.Tests.Series;

/// <summary>
/// Laws that hold for every series loop, with tails, joints, boxes and fittings stated at other currents.
/// </summary>
public class SeriesLawTests
{
    [Property(MaxTest = 500)]
    public void A_longer_run_never_lowers_the_drivers_volts_nor_raises_its_current(PositiveInt seed)
    {
        var random = new System.Random(seed.Get);
        var model = AnyCircuit.Series(random);
        var change = new RunLengthFactor(random.Next(-1, model.Runs.Length), 1 + random.NextDouble());
        if (model.Runs.IsEmpty) return;
        var (before, after) = (SolvedCircuit.Of(model, null), SolvedCircuit.Of(model, null, change));
        Assert.True(after.Milliamps("driver") <= before.Milliamps("driver") + 1e-9);
        // At its limit of power a driver's volts rise as its current falls, and at its limit of volts they stay.
        Assert.True(after.Volts("driver") >= before.Volts("driver") - 1e-9);
    }

    [Property(MaxTest = 500)]
    public void A_leak_never_raises_the_drivers_volts_and_a_smaller_one_lets_more_through(PositiveInt seed)
    {
        var random = new System.Random(seed.Get);
        var model = AnyCircuit.Series(random);
        model = model with { Driver = model.Driver with { MostVolts = null, MostWatts = null } };
        var at = random.Next(model.Fittings.Length);
        var node = model.Fittings[at].Id;
        var ohms = Math.Pow(10, 4 * random.NextDouble());
        var sound = SolvedCircuit.Of(model, null);
        var small = SolvedCircuit.Of(model, null, new CoresBridged(node, 2 * ohms));
        var large = SolvedCircuit.Of(model, null, new CoresBridged(node, ohms));
        Assert.True(small.Volts("driver") <= sound.Volts("driver") + 1e-9);
        Assert.True(large.Volts("driver") <= small.Volts("driver") + 1e-9);
        Assert.True(large.Lit(at) <= small.Lit(at) + 1e-12);
    }

    [Property(MaxTest = 300)]
    public void Watts_and_lengths_scale_every_volt(PositiveInt seed)
    {
        var random = new System.Random(seed.Get);
        var model = AnyCircuit.Series(random);
        var factor = 1 + random.NextDouble();
        var scaled = model with
        {
            Driver = model.Driver with
            {
                MostVolts = model.Driver.MostVolts * factor,
                MostWatts = model.Driver.MostWatts * factor,
            },
            Fittings = [.. model.Fittings.Select(f => f with
            {
                RatedWatts = f.RatedWatts * factor,
                Tail = f.Tail is { } tail ? tail with { LengthMetres = tail.LengthMetres * factor } : null,
            })],
            Runs = [.. model.Runs.Select(r => r with
            {
                LengthMetres = r.LengthMetres * factor,
                JointOhms = r.JointOhms * factor,
            })],
        };
        Same(model, scaled, factor);
    }

    /// <summary>Where the runs tell where everything is, the order of the fittings does not matter either.</summary>
    [Property(MaxTest = 300)]
    public void The_order_and_sense_of_runs_do_not_matter(PositiveInt seed)
    {
        var random = new System.Random(seed.Get);
        var model = AnyCircuit.Series(random);
        var runs = model.Runs.Select(r => random.Next(2) == 0 ? r : r with { From = r.To, To = r.From }).ToArray();
        var fittings = model.Fittings.ToArray();
        random.Shuffle(runs);
        random.Shuffle(fittings);
        Same(model, model with { Runs = [.. runs], Fittings = [.. fittings] }, 1);
    }

    [Property(MaxTest = 300)]
    public void At_every_place_current_and_volts_keep_Kirchhoffs_laws_with_leaks(PositiveInt seed)
    {
        var random = new System.Random(seed.Get);
        var model = AnyCircuit.Series(random);
        var node = model.Fittings[random.Next(model.Fittings.Length)].Id;
        var point = (SeriesPoint)SolvedCircuit.Of(model, null, new CoresBridged(node, 200)).State;
        // What the driver gives is what everything takes: parts, cable, the leak.
        var solved = point.Zones;
        double watts = 0;
        for (var i = 0; i < point.Built.Parts.Length; i++)
        {
            var amps = solved.All[solved.OfPart(i)].Amps;
            if (amps > 0) watts += amps * point.Built.Parts[i].VoltsAt(amps);
        }

        foreach (var zone in solved.All) watts += zone.Amps * zone.Amps * zone.Ohms;
        foreach (var zone in solved.All[1..]) watts += zone.Volts * zone.Volts / zone.BridgeOhms;
        Assert.Equal(solved.All[0].Volts * solved.All[0].Amps, watts, 1e-8);
    }

    private static void Same(CircuitModel one, CircuitModel other, double factor)
    {
        var (a, b) = (SolvedCircuit.Of(one, null), SolvedCircuit.Of(other, null));
        foreach (var place in a.State.Places)
            Assert.Equal(factor * a.Volts(place), b.Volts(place), 1e-9);
        Assert.Equal(a.Milliamps("driver"), b.Milliamps("driver"), 1e-7);
    }
}

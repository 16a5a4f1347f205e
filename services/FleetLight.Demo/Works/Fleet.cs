using FleetLight.Contracts.Facts;
using FleetLight.Demo.Physics;
using FleetLight.Demo.Planning;

namespace FleetLight.Demo.Works;

/// <summary>The invented fleet of a seed: what is true of it, and what its devices recorded.</summary>
internal sealed record Fleet
{
    /// <summary>Seed.</summary>
    public required long Seed { get; init; }

    /// <summary>The day that every date is counted from.</summary>
    public required DateTimeOffset Anchor { get; init; }

    /// <summary>Its sites.</summary>
    public required IReadOnlyList<SitePlan> Sites { get; init; }

    /// <summary>The circuits as they truly are.</summary>
    public required IReadOnlyDictionary<string, TrueCircuit> Truth { get; init; }

    /// <summary>What each device recorded.</summary>
    public required IReadOnlyList<DeviceLog> Logs { get; init; }

    /// <summary>What was planted.</summary>
    public required IReadOnlyList<Plant> Plants { get; init; }

    /// <summary>Its circuits.</summary>
    public IEnumerable<CircuitPlan> Circuits => Sites.SelectMany(site => site.Circuits);

    /// <summary>The fleet of that seed, counted from that day. The same arguments give the same facts.</summary>
    /// <param name="seed">Seed, 0 or more.</param>
    /// <param name="anchor">A day; its hour is not looked at.</param>
    public static Fleet Of(long seed, DateTimeOffset anchor)
    {
        var world = new World(seed, new DateTimeOffset(anchor.UtcDateTime.Date, TimeSpan.Zero));
        var sites = FleetPlanner.Plan(seed, world.Anchor);
        for (var order = 0; order < sites.Count; order++)
        {
            var site = sites[order];
            foreach (var circuit in site.Circuits) world.Truth.Add(circuit.Id, TruthOf(world, circuit));
            Visits.Read(world, site, order, handedOver: Build(world, site));
            Repairs.Mend(world, site);
        }

        return new Fleet
        {
            Seed = seed,
            Anchor = world.Anchor,
            Sites = sites,
            Truth = world.Truth,
            Logs = [.. Crews.Devices.Select(device => DeviceLog.Of(device, world.Journal.Entries))],
            Plants = Plant.In(sites),
        };
    }

    /// <summary>When the last reading of each circuit that still counts was truly taken.</summary>
    public IReadOnlyDictionary<string, DateTimeOffset> LastReadAt()
    {
        var events = Logs.SelectMany(log => log.Events).ToArray();
        var withdrawn = events.Select(each => each.Entry.Fact).OfType<FactCorrected>()
            .Where(fact => fact.Action == Contracts.CorrectionAction.Withdraw).Select(fact => fact.TargetId).ToHashSet();
        return events.Where(each => each.Entry.Fact is ReadingTaken && !withdrawn.Contains(each.Entry.Id))
            .GroupBy(each => ((ReadingTaken)each.Entry.Fact).CircuitId)
            .ToDictionary(group => group.Key, group => group.Max(each => each.Entry.At), StringComparer.Ordinal);
    }

    private static TrueCircuit TruthOf(World world, CircuitPlan circuit)
    {
        var metres = circuit.Runs.ToDictionary(run => run.Design.RunId, run => run.PulledMetres);
        var truth = Truths.Draw(circuit.Design, metres, Chance.Of(world.Seed, $"{circuit.Id} truth"));
        return truth with { Mishaps = Repairs.MishapsOf(world, circuit) };
    }

    private static DateTimeOffset Build(World world, SitePlan site)
    {
        var job = new Job(world, site, new WorkClock(site.Starts, Chance.Of(world.Seed, $"{site.Id} work")));
        GroundWork.Open(job);
        job.Clock.NextMorning();
        GroundWork.LayDucts(job);
        job.Clock.NextMorning();
        CableWork.PullAll(job);
        job.Clock.NextMorning();
        foreach (var circuit in site.Circuits) BoxWork.FitOut(job, circuit);
        TapeWork.Tape(job);
        job.Clock.NextMorning();
        Commissioning.Prove(job);
        job.Clock.NextMorning(2);
        Commissioning.HandOver(job);
        return job.Clock.Now;
    }
}

using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Demo.Planning;

namespace FleetLight.Demo.Works;

/// <summary>Opening a site and laying its ducts.</summary>
internal static class GroundWork
{
    /// <summary>Opens the site and hands its designs to the crew.</summary>
    public static void Open(Job job)
    {
        job.Did(Crews.Tablet, job.Site.Opened);
        foreach (var circuit in job.Site.Circuits) job.Did(Crews.Tablet, circuit.Design);
    }

    /// <summary>Lays, labels, strings and plugs every duct.</summary>
    public static void LayDucts(Job job)
    {
        Lay(job, job.Site.Trunk, labelled: true);
        Lay(job, job.Site.Spare, labelled: true);
        foreach (var circuit in job.Site.Circuits)
        {
            foreach (var run in circuit.Runs)
                Lay(job, run.OwnDuct, labelled: circuit.Role != Role.DuctUnlabelled || run != circuit.Chosen);
        }
    }

    /// <summary>Plugs both ends of a duct.</summary>
    public static void Plug(Job job, DuctPlan duct, bool farEndToo = true)
    {
        job.Did(Plugged(job, duct, RunEnd.Near));
        if (farEndToo) job.Did(Plugged(job, duct, RunEnd.Far));
    }

    private static void Lay(Job job, DuctPlan duct, bool labelled)
    {
        job.Did(duct.Laid);
        if (labelled) job.Did(new DuctLabelled { SiteId = job.Site.Id, DuctId = duct.Id, Label = duct.Label });
        job.Did(new StringLeft { SiteId = job.Site.Id, DuctId = duct.Id, Method = StringMethod.LaidIn });
        Plug(job, duct);
    }

    private static DuctPlugged Plugged(Job job, DuctPlan duct, RunEnd end) =>
        new() { SiteId = job.Site.Id, DuctId = duct.Id, End = end, With = "duct plug" };
}

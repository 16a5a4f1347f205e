using System.Text.Json;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using FleetLight.Demo.Planning;

namespace FleetLight.Demo.Works;

/// <summary>Pulling, labelling and sleeving cables.</summary>
internal static class CableWork
{
    /// <summary>The core that leaves the driver, or links one fitting to the next.</summary>
    public const string Brown = "brown";

    /// <summary>The core that returns to the driver.</summary>
    public const string Blue = "blue";

    /// <summary>The third core.</summary>
    public const string Grey = "grey";

    /// <summary>Pulls every cable of the site; the trunk is closed when the last one is in.</summary>
    public static void PullAll(Job job)
    {
        foreach (var circuit in job.Site.Circuits)
        {
            foreach (var run in circuit.Runs) Pull(job, circuit, run);
        }

        GroundWork.Plug(job, job.Site.Trunk);
        foreach (var circuit in job.Site.Circuits)
        {
            foreach (var run in circuit.Runs) Finish(job, circuit, run);
        }
    }

    private static void Pull(Job job, CircuitPlan circuit, RunPlan run)
    {
        var chosen = run == circuit.Chosen;
        var pulled = Pulled(job, circuit, run);
        if (chosen && circuit.Role == Role.LengthMistyped)
        {
            // Typed in millimetres: the service will refuse it, and the crew types it again.
            job.Did(pulled with { LengthMetres = Math.Round(run.PulledMetres * 1000) });
        }

        var typed = chosen && circuit.Role == Role.LengthReplaced ? pulled with { LengthMetres = Swapped(run.PulledMetres) } : pulled;
        job.Did(typed);
        foreach (var duct in run.Ducts)
        {
            if (!chosen || circuit.Role != Role.StringForgotten)
                job.Did(new StringLeft { SiteId = job.Site.Id, DuctId = duct.Id, Method = StringMethod.Pulled });
        }

        GroundWork.Plug(job, run.OwnDuct, farEndToo: !chosen || circuit.Role != Role.DuctLeftOpen);
    }

    private static void Finish(Job job, CircuitPlan circuit, RunPlan run)
    {
        job.Did(new CableLabelled { SiteId = job.Site.Id, CableId = run.CableId, Label = $"{circuit.Id[^2..]}/{run.CableId[^2..]}".ToUpperInvariant() });
        var first = run.Design.From == "driver";
        var link = circuit.Design.Drive == DriveKind.ConstantCurrent && !first;
        foreach (var end in (RunEnd[])[RunEnd.Near, RunEnd.Far])
        {
            job.Did(Sleeve(Brown, link ? CorePolarity.SeriesLink : CorePolarity.Positive, end));
            job.Did(Sleeve(Blue, CorePolarity.Negative, end));
        }

        CoreSleeved Sleeve(string core, CorePolarity polarity, RunEnd end) =>
            new() { SiteId = job.Site.Id, CableId = run.CableId, Core = core, Polarity = polarity, End = end };
    }

    private static CablePulled Pulled(Job job, CircuitPlan circuit, RunPlan run)
    {
        var cores = new List<CoreAssignment>
        {
            new() { Core = Brown, Use = CoreUse.Circuit, CircuitId = circuit.Id },
            new() { Core = Blue, Use = CoreUse.Circuit, CircuitId = circuit.Id },
        };
        if (run.SpareCore) cores.Add(new() { Core = Grey, Use = CoreUse.Spare });
        return new CablePulled
        {
            SiteId = job.Site.Id,
            CableId = run.CableId,
            DuctIds = [.. run.Ducts.Select(duct => duct.Id)],
            LengthMetres = run.PulledMetres,
            AreaSquareMillimetres = run.Design.AreaSquareMillimetres,
            ConductorClass = run.Design.ConductorClass,
            Cores = [.. cores],
            OutsideDiameterMillimetres = Wares.DiameterMillimetres(run.Design.AreaSquareMillimetres, run.SpareCore),
        };
    }

    /// <summary>Puts the right length of the chosen cable in the place of the one typed wrongly.</summary>
    public static void ReplaceLength(Job job, CircuitPlan circuit)
    {
        var wrong = job.World.Journal.Entries.Last(entry => entry.Fact is CablePulled pulled && pulled.CableId == circuit.Chosen.CableId);
        job.Did(new FactCorrected
        {
            SiteId = job.Site.Id,
            TargetId = wrong.Id,
            TargetType = FactTypes.NameOf(typeof(CablePulled)),
            Action = CorrectionAction.Replace,
            Reason = "The two digits of the length were swapped when it was typed.",
            Replacement = JsonSerializer.SerializeToElement(Pulled(job, circuit, circuit.Chosen), WireJson.Strict),
        });
    }

    // 72.4 m typed as 27.4 m.
    private static double Swapped(double metres)
    {
        var whole = (int)metres;
        return Math.Round((whole % 10 * 10) + (whole / 10) + (metres - whole), 1);
    }
}

using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Files;

namespace FleetLight.Record.Materials;

/// <summary>The lengths of cable that designs ask for.</summary>
internal static class Cuts
{
    private const int CoresOfTail = 2;

    public static IEnumerable<CableCut> Of(CircuitDesigned design, IReadOnlyDictionary<string, CableView> cables, MaterialAssumptions assumed)
    {
        foreach (var run in design.Runs)
        {
            var cable = run.CableId is { } id ? cables.GetValueOrDefault(id) : null;
            var cores = cable is { Cores.Count: > 0 } ? cable.Cores.Count : run.ConductorsInLoop ?? 2;
            yield return new CableCut
            {
                CircuitId = design.CircuitId,
                RunId = run.RunId,
                From = run.From,
                To = run.To,
                CableId = run.CableId,
                Cable = KindOf(cores, run.AreaSquareMillimetres, run.ConductorClass),
                Cores = cores,
                AreaSquareMillimetres = run.AreaSquareMillimetres,
                ConductorClass = run.ConductorClass,
                DesignedMetres = run.LengthMetres,
                CutMetres = assumed.Cut(run.LengthMetres),
                PulledMetres = cable?.LengthMetres,
            };
        }

        foreach (var fitting in design.Fittings)
        {
            if (fitting.Tail is not { } tail) continue;
            yield return new CableCut
            {
                CircuitId = design.CircuitId,
                FittingId = fitting.FittingId,
                From = fitting.FittingId,
                To = "joint",
                Cable = KindOf(CoresOfTail, tail.AreaSquareMillimetres, tail.ConductorClass),
                Cores = CoresOfTail,
                AreaSquareMillimetres = tail.AreaSquareMillimetres,
                ConductorClass = tail.ConductorClass,
                DesignedMetres = tail.LengthMetres,
                CutMetres = assumed.Cut(tail.LengthMetres),
            };
        }
    }

    /// <summary>A kind of cable, in plain words.</summary>
    public static string KindOf(int cores, double area, ConductorClass conductors) =>
        $"{cores} × {Words.Plain(area)} mm², {Words.Said(conductors)}";
}

using System.Collections.Immutable;
using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>Faults of cables and joints.</summary>
internal static class CableFaults
{
    // Joints that matter: from where a series loop shows them to where a driver gives up. On constant voltage a tenth of
    // that already counts. Judgement of the trade, no source.
    private const double LeastJointOhmsSeries = 0.5;
    private const double MostJointOhmsSeries = 500;
    private const double LeastJointOhmsParallel = 0.05;
    private const double MostJointOhmsParallel = 50;

    // Water between two cores, from a flooded joint with corroded metal to a damp one. Judgement of the trade.
    private const double LeastLeakOhms = 10;
    private const double MostLeakOhms = 1e6;

    private const double LeastLonger = 1.1;
    private const double MostLonger = 5;
    private const double LeastShorter = 0.2;
    private const double MostShorter = 0.9;

    // How often it is all the cable and not one run: one drum, one slip in the record.
    private const double ShareOfAll = 0.5;

    private const string Measure =
        Caution.Isolate + "Then measure the loop resistance and compare it with the recorded lengths and areas.";

    public static IEnumerable<FaultDefinition> All =>
    [
        new(FaultKind.OpenLoop, "Open loop", 0.015)
        {
            AlsoShowsInSeries = "All is dark, no current flows and the driver stands at its open-circuit volts.",
            AlsoShowsInParallel = "All beyond the break is dark and without volts.",
            WhatToDo = Caution.Isolate
                + "Then measure continuity from the driver, halving the stretch each time. "
                + Caution.Digging,
            Cases = scope => AtRuns(scope, run => [new RunOpen(run)]),
            Says = f => f.RunIds.Length == 0 || f.Case.Runs is [-1]
                ? "The loop is broken: no current flows."
                : f.IsSeries
                    ? $"The loop is broken: {Lower(f.Run)} or a joint at its ends is open."
                    : $"{f.Run} is broken: all beyond it is dead.",
        },
        new(FaultKind.ShortBetweenCores, "Short between cores", 0.004)
        {
            AlsoShows = "Insulation between the cores reads next to nothing.",
            AlsoShowsInSeries = "All beyond the touch is dark and the driver's volts are too low.",
            AlsoShowsInParallel = "The driver trips or gives all its current, and everything is dark.",
            WhatToDo = Caution.Isolate
                + "Then part the circuit at a box and measure insulation to both sides. "
                + Caution.Digging,
            Cases = scope => scope.NodeNames.Select(
                node => new FaultCase(1) { Nodes = [node], Changes = [new CoresBridged(node, 0)] }),
            Says = f => $"The two cores touch {f.AtNode}.",
        },
        new(FaultKind.HighResistanceJoint, "A joint with high resistance", 0.01)
        {
            AlsoShows = "The loop resistance is too high by the joint's; the joint gets warm under load, and the reading "
                + "changes when it is moved.",
            AlsoShowsInParallel = "All beyond it has too few volts and may be dim or dark.",
            WhatToDo = Caution.Isolate + "Then open and remake the suspect joints, easiest to reach first.",
            Cases = Joints,
            Says = f => f.IsSeries
                ? $"A joint or terminal in the loop has {f.FigureText} Ω too much{Where(f)}."
                : $"{f.Run} has a joint or terminal with {f.FigureText} Ω too much.",
        },
        new(FaultKind.WaterInJoint, "Water in a joint", 0.008)
        {
            AlsoShows = "Insulation resistance is low and falls after rain; fittings beyond the joint may be dim.",
            WhatToDo = Caution.Isolate
                + "Then part the circuit at a box and measure insulation to both sides; open the wet joint, dry it, and "
                + "remake it with a seal for its place. " + Caution.Digging,
            Cases = Leaks,
            Says = f => $"Water in a joint {f.AtNode} leads from core to core: {f.FigureText}.",
        },
        new(FaultKind.WrongConductorArea, "A cable of another conductor area", 0.006)
        {
            AlsoShows = "The loop resistance differs by the ratio of the areas.",
            WhatToDo = "Read the print on the cable and correct the record. " + Measure,
            Cases = Areas,
            Says = f => $"{AllOr(f)} {f.FigureText} mm² where another conductor area is recorded.",
        },
        new(FaultKind.CableLonger, "Cable longer than recorded", 0.005)
        {
            AlsoShows = "The loop resistance is too high in proportion.",
            WhatToDo = Measure,
            Cases = scope => Lengths(scope, LeastLonger, MostLonger),
            Says = Length,
        },
        new(FaultKind.CableShorter, "Cable shorter than recorded", 0.005)
        {
            AlsoShows = "The loop resistance is too low in proportion.",
            WhatToDo = Measure,
            Cases = scope => Lengths(scope, LeastShorter, MostShorter),
            Says = Length,
        },
    ];

    private static IEnumerable<FaultCase> AtRuns(FaultScope scope, Func<int, ImmutableArray<CircuitChange>> changes)
    {
        foreach (var run in scope.RunPlaces)
            yield return new FaultCase(run.Count) { Runs = run.All, Changes = changes(run.Lead) };
    }

    private static IEnumerable<FaultCase> Joints(FaultScope scope)
    {
        var (least, most) = scope.Model.Drive == DriveKind.ConstantCurrent
            ? (LeastJointOhmsSeries, MostJointOhmsSeries)
            : (LeastJointOhmsParallel, MostJointOhmsParallel);
        foreach (var run in scope.RunPlaces)
        {
            yield return new FaultCase(run.Count)
            {
                Runs = run.All,
                Meaning = FigureMeaning.JointOhms,
                Free = new FreeFigure(least, most, true, ohms => [new RunJointOhms(run.Lead, ohms)]),
            };
        }
    }

    private static IEnumerable<FaultCase> Leaks(FaultScope scope)
    {
        foreach (var node in scope.LeakNodes)
        {
            var name = scope.NodeNames[node.Lead];
            yield return new FaultCase(node.Count)
            {
                Nodes = scope.NamesOf(node),
                Meaning = FigureMeaning.LeakOhms,
                Free = new FreeFigure(LeastLeakOhms, MostLeakOhms, true, ohms => [new CoresBridged(name, ohms)]),
            };
        }
    }

    private static IEnumerable<FaultCase> Areas(FaultScope scope)
    {
        var areas = ConductorResistance.StandardAreasSquareMillimetres;
        var runs = scope.Model.Runs.OrEmpty();
        var places = scope.Cables.Where(cable => runs[cable.Lead].LengthMetres > 0).ToList();
        var count = places.Sum(cable => cable.Count);
        // Where the runs differ in area, another area for all of them is no single mistake.
        var one = runs.Select(run => run.AreaSquareMillimetres).Distinct().Count() == 1;
        foreach (var area in areas)
        {
            foreach (var cable in places)
            {
                var recorded = runs[cable.Lead].AreaSquareMillimetres;
                if (!AreNeighbours(areas, recorded, area)) continue;
                yield return new FaultCase(cable.Count * (1 - ShareOfAll) / count)
                {
                    Runs = cable.All,
                    Figure = area,
                    Meaning = FigureMeaning.AreaSquareMillimetres,
                    Changes = [new RunHasArea(cable.Lead, area)],
                };
            }

            if (!one || places.Count == 0 || runs.Length < 2) continue;
            if (!AreNeighbours(areas, runs[0].AreaSquareMillimetres, area)) continue;
            yield return new FaultCase(ShareOfAll)
            {
                Variant = "all",
                Figure = area,
                Meaning = FigureMeaning.AreaSquareMillimetres,
                Changes = [new RunHasArea(-1, area)],
            };
        }
    }

    private static bool AreNeighbours(IReadOnlyList<double> areas, double one, double other)
    {
        for (var i = 1; i < areas.Count; i++)
        {
            if ((areas[i - 1] == one && areas[i] == other) || (areas[i] == one && areas[i - 1] == other)) return true;
        }

        return false;
    }

    private static IEnumerable<FaultCase> Lengths(FaultScope scope, double least, double most)
    {
        var runs = scope.Model.Runs.OrEmpty();
        var places = scope.Cables.Where(cable => runs[cable.Lead].LengthMetres > 0).ToList();
        var count = places.Sum(cable => cable.Count);
        foreach (var cable in places)
        {
            yield return new FaultCase(cable.Count * (1 - ShareOfAll) / count)
            {
                Runs = cable.All,
                Meaning = FigureMeaning.LengthFactor,
                Free = new FreeFigure(least, most, true, factor => [new RunLengthFactor(cable.Lead, factor)]),
            };
        }

        if (count < 2) yield break;
        yield return new FaultCase(ShareOfAll)
        {
            Variant = "all",
            Meaning = FigureMeaning.LengthFactor,
            Free = new FreeFigure(least, most, true, factor => [new RunLengthFactor(-1, factor)]),
        };
    }

    private static string Length(FaultFinding f) => f.Case.Variant == "all"
        ? $"All the cable together is {f.FigureText} times as long as recorded."
        : $"{f.Run} is {f.FigureText} times as long as recorded.";

    private static string AllOr(FaultFinding f) => f.Case.Variant == "all" ? "All the cable is of" : $"{f.Run} is of";

    private static string Where(FaultFinding f) => f.RunIds.Length == 0 ? "" : $", in {Lower(f.Run)} or at its ends";

    private static string Lower(string words) => char.ToLowerInvariant(words[0]) + words[1..];
}

using System.Collections.Immutable;
using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>Faults of fittings.</summary>
internal static class FittingFaults
{
    /// <summary>
    /// What a diode that leads the current past a reversed fitting may keep, V: from a Schottky's to a silicon diode's at
    /// some hundred milliamps. Common practice, no source.
    /// </summary>
    private const double LeastDiodeVolts = 0.3;
    private const double MostDiodeVolts = 1.2;

    // Chance that a fitting of which it is not known has such a diode, and that one for constant voltage has a diode
    // against reversal that shorts the supply. Judgement of the trade, no source.
    private const double DiodeShareSeries = 0.5;
    private const double DiodeShareParallel = 0.1;

    private const double LeastWatts = 0.3;

    private static readonly ImmutableArray<DriveKind> Parallel = [DriveKind.ConstantVoltage];

    public static IEnumerable<FaultDefinition> All =>
    [
        new(FaultKind.FittingOfOtherWattage, "A fitting of another wattage", 0.03)
        {
            AlsoShows = "The fitting is somewhat brighter or dimmer than its neighbours; the volts across it differ.",
            WhatToDo = "Read the fitting's label; correct the record or change the fitting.",
            Cases = OtherWattage,
            Says = f => $"{f.Fitting} is a {f.FigureText} W one where {f.RatedWatts} W was designed.",
        },
        new(FaultKind.FittingOfUnlistedWattage, "A fitting of a wattage in no catalogue", 0.003)
        {
            AlsoShows = "The fitting is somewhat brighter or dimmer than its neighbours; the volts across it differ.",
            WhatToDo = "Read the fitting's label; correct the record or change the fitting.",
            Cases = FreeWattage,
            Says = f => $"{f.Fitting} takes {f.FigureText} W where {f.RatedWatts} W was designed.",
        },
        // Its cases are pairs of those of the single fault; PairScreen makes them.
        new(FaultKind.TwoFittingsOfOtherWattage, "Two fittings of other wattages", 0.005)
        {
            AlsoShows = "Two fittings are brighter or dimmer than their neighbours.",
            WhatToDo = "Read the fittings' labels; correct the record or change the fittings.",
            Says = Two,
        },
        new(FaultKind.FittingReversed, "A fitting reversed", 0.008)
        {
            AlsoShowsInSeries = "The fitting is dark; all others are lit where a diode leads past it, and dark where none does.",
            AlsoShowsInParallel = "The fitting alone is dark, with full volts across it.",
            WhatToDo = $"Look for the dark fitting. {Caution.Isolate}Then check the polarity at its joint. A fitting that "
                + "was fed the wrong way round may be destroyed.",
            Cases = Reversed,
            Says = f => f.Case.Variant switch
            {
                "diode" => $"{f.Fitting} is connected the wrong way round: it stays dark and may be destroyed.",
                "short" => $"{f.Fitting} is connected the wrong way round and its diode shorts the supply.",
                _ when f.IsSeries => $"{f.Fitting} is connected the wrong way round and blocks the loop: all is dark, it "
                    + "may be destroyed.",
                _ => $"{f.Fitting} is connected the wrong way round: it stays dark and may be destroyed.",
            },
        },
        new(FaultKind.FittingShorted, "A fitting shorted", 0.004)
        {
            AlsoShowsInSeries = "The fitting alone is dark, with next to no volts across it.",
            AlsoShowsInParallel = "The driver trips or gives all its current, and everything is dark.",
            WhatToDo = $"Look for the dark fitting. {Caution.Isolate}Then measure across it and change it.",
            Cases = scope => Each(scope.FittingsAsShorts, i => [new FittingBypassed(i, 0)]),
            Says = f => f.IsSeries
                ? $"{f.Fitting} is shorted: the current passes it and it stays dark."
                : $"{f.Fitting} is shorted and pulls the supply down.",
        },
        new(FaultKind.FittingOpen, "A fitting open", 0.006)
        {
            AlsoShowsInSeries = "All is dark, and the driver's open-circuit volts stand across the fitting.",
            AlsoShowsInParallel = "The fitting alone is dark, with full volts across it.",
            WhatToDo = $"Look over the fitting and its joint. {Caution.Isolate}Then test it and change it. Across an open "
                + "fitting stands all that the driver can give.",
            Cases = scope => Each(scope.Fittings, i => [new FittingOpen(i)]),
            Says = f => f.IsSeries
                ? $"{f.Fitting} is open and breaks the loop: all is dark."
                : $"{f.Fitting} is open: burnt out or not connected, it stays dark.",
        },
        new(FaultKind.FittingMissing, "A fitting missing", 0.012)
        {
            AlsoShows = "One fitting fewer is lit than designed.",
            WhatToDo = "Count the lit fittings against the design; look in the joint of the dark one.",
            Cases = scope => Each(scope.Fittings, i => scope.Model.Drive == DriveKind.ConstantCurrent
                ? [new FittingBypassed(i, 0)]
                : [new FittingOpen(i)]),
            Says = f => f.IsSeries
                ? $"{f.Fitting} is missing, its joint bridged."
                : $"{f.Fitting} takes no power: missing, dead or not connected.",
        },
        new(FaultKind.OneFittingTooMany, "A fitting too many", 0.008)
        {
            AlsoShows = "One fitting more is lit than designed.",
            WhatToDo = "Count the fittings against the design.",
            Cases = TooMany,
            Says = f => $"There is one fitting of {f.FigureText} W more than designed.",
        },
        new(FaultKind.FittingForOtherDrive, "A fitting made for the other kind of drive", 0.004)
        {
            AlsoShowsInSeries = "The fitting is dark, dim or flickers.",
            AlsoShowsInParallel = "A string of LEDs without a driver of its own is far too bright and hot for a short while "
                + "and then fails, or stays dark where the volts do not suffice.",
            WhatToDo = $"Read the fitting's label. {Caution.Isolate}Then change the fitting; it may be hot and may be "
                + "destroyed.",
            Cases = OtherDrive,
            Says = f => f.IsSeries
                ? $"{f.Fitting} is made for {f.FigureText} V constant voltage and hangs in a series loop."
                : $"{f.Fitting} is a string of LEDs for constant current, of about {f.FigureText} V, and hangs on "
                    + "constant voltage.",
        },
    ];

    private static string Two(FaultFinding f)
    {
        var each = f.Case.Changes.OfType<FittingHasWatts>()
            .Select(one => $"{f.Model.Fittings[one.Fitting].Id} takes {Plain.Figure(one.Watts)} W");
        var instance = f.IsOneOfSeveral || f.FittingIds.Length > 2 ? "for instance " : "";
        return $"Two fittings have other wattages than designed: {instance}{string.Join(" and ", each)}.";
    }

    private static IEnumerable<FaultCase> Each(
        ImmutableArray<Alike> fittings, Func<int, ImmutableArray<CircuitChange>> changes)
    {
        foreach (var fitting in fittings)
            yield return new FaultCase(fitting.Count) { Fittings = fitting.All, Changes = changes(fitting.Lead) };
    }

    private static IEnumerable<FaultCase> OtherWattage(FaultScope scope)
    {
        foreach (var fitting in scope.Fittings)
        {
            var rated = scope.Model.Fittings[fitting.Lead].RatedWatts;
            var others = scope.Wattages.Count(w => w != rated);
            foreach (var watts in scope.Wattages)
            {
                if (watts == rated) continue;
                yield return new FaultCase((double)fitting.Count / others)
                {
                    Fittings = fitting.All,
                    Figure = watts,
                    Meaning = FigureMeaning.Watts,
                    Changes = [new FittingHasWatts(fitting.Lead, watts)],
                };
            }
        }
    }

    private static IEnumerable<FaultCase> FreeWattage(FaultScope scope)
    {
        foreach (var fitting in scope.Fittings)
        {
            var rated = scope.Model.Fittings[fitting.Lead].RatedWatts;
            var most = 4 * Math.Max(scope.Wattages.DefaultIfEmpty(rated).Max(), rated);
            yield return new FaultCase(fitting.Count)
            {
                Fittings = fitting.All,
                Meaning = FigureMeaning.Watts,
                Free = new FreeFigure(
                    Math.Min(LeastWatts, rated / 2), most, false, w => [new FittingHasWatts(fitting.Lead, w)]),
            };
        }
    }

    private static IEnumerable<FaultCase> Reversed(FaultScope scope)
    {
        var series = scope.Model.Drive == DriveKind.ConstantCurrent;
        double DiodeShare(Alike fitting) => !series ? DiodeShareParallel
            : scope.Model.Fittings[fitting.Lead].HasBypassDiode switch { true => 1, false => 0, null => DiodeShareSeries };
        foreach (var fitting in scope.FittingsAsShorts.Where(fitting => DiodeShare(fitting) > 0))
        {
            yield return new FaultCase(DiodeShare(fitting) * fitting.Count)
            {
                Fittings = fitting.All,
                Variant = series ? "diode" : "short",
                Meaning = FigureMeaning.FittingVolts,
                Free = new FreeFigure(
                    LeastDiodeVolts, MostDiodeVolts, false, v => [new FittingBypassed(fitting.Lead, v)]),
            };
        }

        foreach (var fitting in scope.Fittings.Where(fitting => DiodeShare(fitting) < 1))
        {
            yield return new FaultCase((1 - DiodeShare(fitting)) * fitting.Count)
            {
                Fittings = fitting.All,
                Changes = [new FittingOpen(fitting.Lead)],
            };
        }
    }

    private static IEnumerable<FaultCase> TooMany(FaultScope scope)
    {
        foreach (var watts in scope.Wattages)
        {
            if (scope.LoadNodes.IsEmpty) yield return Added(1, [], null, watts);
            foreach (var node in scope.LoadNodes)
                yield return Added(node.Count, scope.NamesOf(node), scope.NodeNames[node.Lead], watts);
        }
    }

    private static FaultCase Added(double share, ImmutableArray<string> nodes, string? node, double watts) => new(share)
    {
        Nodes = nodes,
        Figure = watts,
        Meaning = FigureMeaning.Watts,
        Changes = [new FittingAdded(node, watts)],
    };

    private static IEnumerable<FaultCase> OtherDrive(FaultScope scope)
    {
        var series = scope.Model.Drive == DriveKind.ConstantCurrent;
        foreach (var fitting in scope.FittingsAsShorts)
        {
            var watts = scope.Model.Fittings[fitting.Lead].RatedWatts;
            var volts = series
                ? scope.Options.DriverVoltsDc.OrEmpty().Take(DiagnosisOptions.MostDrivers)
                : scope.Options.DriverMilliamps.OrEmpty().Take(DiagnosisOptions.MostDrivers)
                    .Select(ma => watts / ma * 1000);
            foreach (var rated in volts.Where(v => v is >= 1 and <= 1500).Distinct())
            {
                yield return new FaultCase(fitting.Count)
                {
                    Fittings = fitting.All,
                    Figure = rated,
                    Meaning = FigureMeaning.FittingVolts,
                    Changes = [new FittingForOtherDrive(fitting.Lead, rated)],
                };
            }
        }
    }
}

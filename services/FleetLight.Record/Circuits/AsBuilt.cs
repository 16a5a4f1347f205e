using System.Collections.Immutable;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Electrics;
using FleetLight.Record.Corrections;
using FleetLight.Record.Works;

namespace FleetLight.Record.Circuits;

/// <summary>Makes the circuit as built out of its design and of what was recorded of its parts.</summary>
internal static class AsBuilt
{
    // What the contract says where a tolerance is absent.
    private const double DefaultTolerancePercent = 5;

    /// <summary>
    /// The driver as fitted counts in place of the designed one, whole: a rating that is not known of the fitted one is
    /// not borrowed. Only the regulated output is, because without it nothing can be worked out.
    /// </summary>
    public static DriverDesign? Driver(CircuitDesigned? design, DriverConnected? connected) =>
        connected?.Driver is not { } fitted || design is null
            ? connected?.Driver ?? design?.Driver
            : fitted with
            {
                RatedMilliamps = fitted.RatedMilliamps ?? design.Driver.RatedMilliamps,
                RatedVolts = fitted.RatedVolts ?? design.Driver.RatedVolts,
            };

    /// <summary>The circuit as built.</summary>
    public static CircuitModel Model(
        CircuitDesigned design,
        DriverDesign driver,
        IReadOnlyDictionary<string, Counted<FittingFixed>> fixedFittings,
        ById<CableView> cables,
        ById<BoxView> boxes) => new(
            design.Drive,
            new DriverModel
            {
                RatedMilliamps = driver.RatedMilliamps,
                RatedVolts = driver.RatedVolts,
                LeastVolts = driver.LeastVolts,
                MostVolts = driver.MostVolts,
                MostWatts = driver.MostWatts,
                MostAmps = driver.MostAmps,
                OpenCircuitVolts = driver.OpenCircuitVolts,
                OutputTolerancePercent = driver.TolerancePercent ?? DefaultTolerancePercent,
            },
            [.. design.Fittings.Select(fitting => Fitting(fitting, fixedFittings))],
            Runs(design, cables, boxes));

    /// <summary>Rated power of a fitting as fixed, or else as designed, W.</summary>
    public static double Watts(
        FittingDesign fitting, IReadOnlyDictionary<string, Counted<FittingFixed>> fixedFittings) =>
        fixedFittings.TryGetValue(fitting.FittingId, out var known)
            ? known.Data.RatedWatts ?? fitting.RatedWatts
            : fitting.RatedWatts;

    private static FittingModel Fitting(
        FittingDesign fitting, IReadOnlyDictionary<string, Counted<FittingFixed>> fixedFittings) =>
        new(fitting.FittingId, Watts(fitting, fixedFittings))
        {
            TolerancePercent = fitting.TolerancePercent ?? DefaultTolerancePercent,
            Type = fitting.Description,
            LeastVolts = fitting.LeastVolts,
            Load = fitting.Load ?? Contracts.LoadKind.ConstantPower,
            StatedMilliamps = fitting.StatedMilliamps,
            HasBypassDiode = fitting.BypassDiode,
            Tail = fitting.Tail is { } tail
                ? new TailModel(tail.LengthMetres, tail.AreaSquareMillimetres, tail.ConductorClass)
                : null,
        };

    private static ImmutableArray<RunModel> Runs(CircuitDesigned design, ById<CableView> cables, ById<BoxView> boxes)
    {
        var fittings = design.Fittings.Select(fitting => fitting.FittingId).ToHashSet(StringComparer.Ordinal);
        return [.. design.Runs.Select(run =>
        {
            var cable = run.CableId is { } id && cables.Find(id) is { PulledAt: not null } pulled ? pulled : null;
            return new RunModel(
                run.RunId,
                Node(run.From),
                Node(run.To),
                cable?.LengthMetres ?? run.LengthMetres,
                cable?.AreaSquareMillimetres ?? run.AreaSquareMillimetres,
                cable?.ConductorClass ?? run.ConductorClass)
            {
                Surroundings = run.Surroundings ?? Contracts.RunSurroundings.Buried,
                ConductorsInLoop = run.ConductorsInLoop ?? 2,
                JointOhms = run.JointOhms ?? 0,
            };
        })];

        // Two records of one box are one node.
        string Node(string end) => end == Routing.DriverEnd || fittings.Contains(end) ? end : boxes.Resolve(end);
    }
}

using System.Collections.Immutable;
using FleetLight.Contracts;
using FleetLight.Electrics;

namespace FleetLight.Benchmarks.Diagnosing;

/// <summary>
/// Draws designs of 2 to 40 fittings: boxes along a cable with one or two fittings at each, on either drive.
/// </summary>
internal static class Designs
{
    private const int Least = 2;

    // A touch voltage below the limit of extra-low voltage (IEC 61140: 120 V DC) with the driver's loop open.
    private const double MostOpenVolts = 118;
    private const double LeastShareAtFarEnd = 0.92;

    private static readonly double[] Watts = [1.0, 1.6, 2.0, 2.6, 3.2, 4.2];

    /// <summary>A design.</summary>
    /// <param name="chance">Chance.</param>
    /// <param name="drive">How it is fed.</param>
    /// <param name="most">The most fittings, 2 to 40; sizes are spread evenly over their logarithm.</param>
    public static CircuitModel Draw(Chance chance, DriveKind drive, int most)
    {
        while (true)
        {
            var count = (int)Math.Round(Least * Math.Pow((double)most / Least, chance.Share()));
            var design = drive == DriveKind.ConstantCurrent ? Series(chance, count) : Parallel(chance, count);
            if (design is not null) return design;
        }
    }

    private static CircuitModel? Series(Chance chance, int count)
    {
        var milliamps = chance.Pick<double>([350, 500, 700]);
        var fittings = Fittings(chance, count);
        var volts = fittings.Sum(f => f.RatedWatts) / milliamps * 1000;
        var most = Math.Ceiling(volts * chance.Between(1.15, 1.5)) + 3;
        if (1.1 * most > MostOpenVolts) return null;
        return new CircuitModel(
            DriveKind.ConstantCurrent,
            new DriverModel
            {
                RatedMilliamps = milliamps,
                LeastVolts = Math.Floor(0.4 * volts) + 1,
                MostVolts = most,
                MostWatts = Math.Ceiling(most * milliamps / 1000),
                OpenCircuitVolts = Math.Round(1.1 * most),
                OutputTolerancePercent = chance.Pick<double>([2, 5]),
            },
            fittings,
            Runs(chance, fittings, chance.Pick<double>([1, 1.5, 2.5])));
    }

    private static CircuitModel? Parallel(Chance chance, int count)
    {
        var volts = chance.Pick<double>([12, 24, 48]);
        var load = chance.Pick<LoadKind>([LoadKind.ConstantPower, LoadKind.ConstantPower, LoadKind.ConstantCurrent]);
        ImmutableArray<FittingModel> fittings = [.. Fittings(chance, count).Select(f => f with { Load = load })];
        var amps = fittings.Sum(f => f.RatedWatts) / volts;
        var design = new CircuitModel(
            DriveKind.ConstantVoltage,
            new DriverModel
            {
                RatedVolts = volts,
                MostAmps = Math.Round(amps * chance.Between(1.2, 1.8), 1) + 0.5,
                OutputTolerancePercent = chance.Pick<double>([1, 2, 5]),
            },
            fittings,
            Runs(chance, fittings, chance.Pick<double>([2.5, 4, 6])));
        return Expected.Of(design) is ExpectedReadings sound
            && sound.Nodes.Min(n => n.VoltsDc.Best) >= LeastShareAtFarEnd * volts ? design : null;
    }

    private static ImmutableArray<FittingModel> Fittings(Chance chance, int count)
    {
        double[] kinds = [chance.Pick(Watts), chance.Pick(Watts)];
        var tolerance = chance.Pick<double>([2.5, 5, 10]);
        return
        [
            .. Enumerable.Range(1, count).Select(i => new FittingModel($"f{i}", chance.Pick(kinds))
            {
                TolerancePercent = tolerance,
            }),
        ];
    }

    // A trunk from box to box, now and then a branch; each fitting hangs on its box by a short run.
    private static ImmutableArray<RunModel> Runs(Chance chance, ImmutableArray<FittingModel> fittings, double area)
    {
        var runs = ImmutableArray.CreateBuilder<RunModel>();
        var boxes = new List<string> { CircuitModel.DriverNode };
        var left = 0;
        foreach (var fitting in fittings)
        {
            if (left == 0)
            {
                var box = $"b{boxes.Count}";
                var from = boxes.Count > 2 && chance.Next(6) == 0 ? boxes[^2] : boxes[^1];
                var metres = boxes.Count == 1 ? chance.Between(5, 40) : chance.Between(3, 12);
                runs.Add(Run(from, box, Math.Round(metres, 1), area));
                boxes.Add(box);
                left = 1 + chance.Next(2);
            }

            runs.Add(Run(boxes[^1], fitting.Id, Math.Round(chance.Between(0.5, 3), 1), 1));
            left--;
        }

        return runs.ToImmutable();
    }

    private static RunModel Run(string from, string to, double metres, double area) =>
        new($"{from}-{to}", from, to, metres, area, ConductorClass.Class5);
}

using FleetLight.Contracts;
using FsCheck;
using FsCheck.Fluent;

namespace FleetLight.Electrics.Tests.Totality;

/// <summary>Circuits and readings of any content, sane parts and nonsense mixed.</summary>
public static class Hostile
{
    private static readonly Gen<double> Odd = Gen.Elements(
        double.NaN, double.PositiveInfinity, double.NegativeInfinity, double.MaxValue, double.Epsilon,
        -1, 0, 1e9, 1e-300);

    private static readonly Gen<double> Number = Mostly(Gen.Choose(1, 4000).Select(n => n / 100.0), Odd);

    private static readonly Gen<string> Name = Mostly(
        Gen.Elements("driver", "n0", "n1", "n2", "n3", "box"), Gen.Elements("", null!, "driver", "Ω\0"));

    private static readonly Gen<double> Area = Mostly(Gen.Elements(0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16), Odd);

    private static readonly Gen<double?> Optional = Mostly(
        Gen.Elements<double?>(null, 12, 24, 120, 48), Odd.Select(d => (double?)d));

    private static readonly Gen<ConductorClass> Class = Mostly(
        Gen.Elements(Enum.GetValues<ConductorClass>()), Gen.Constant((ConductorClass)42));

    private static readonly Gen<TailModel?> Tail = Gen.Frequency<TailModel?>(
        (4, Gen.Constant<TailModel?>(null)),
        (1, from metres in Number
            from area in Area
            from kind in Class
            select (TailModel?)new TailModel(metres, area, kind)));

    private static readonly Gen<FittingModel> Fitting =
        from id in Name
        from watts in Number
        from tolerance in Number
        from least in Optional
        from load in Mostly(Gen.Elements(Enum.GetValues<LoadKind>()), Gen.Constant((LoadKind)9))
        from stated in Mostly(Gen.Elements<double?>(null, 350, 700), Odd.Select(d => (double?)d))
        from tail in Tail
        from diode in Gen.Elements<bool?>(null, false, true)
        select new FittingModel(id, watts)
        {
            TolerancePercent = tolerance,
            LeastVolts = least,
            Load = load,
            StatedMilliamps = stated,
            Tail = tail,
            HasBypassDiode = diode,
        };

    private static readonly Gen<RunModel> Run =
        from id in Gen.Choose(0, 1000).Select(n => $"run{n}")
        from ends in Name.Two()
        from metres in Number
        from area in Area
        from kind in Class
        from joint in Mostly(Gen.Elements(0, 0.1), Odd)
        from lies in Mostly(Gen.Elements(Enum.GetValues<RunSurroundings>()), Gen.Constant((RunSurroundings)(-5)))
        from celsius in Optional
        from cores in Mostly(Gen.Elements(1, 2), Gen.Elements(0, -1, int.MaxValue))
        select new RunModel(id, ends.Item1, ends.Item2, metres, area, kind)
        {
            Surroundings = lies,
            ConductorCelsius = celsius,
            ConductorsInLoop = cores,
            JointOhms = joint,
        };

    private static readonly Gen<DriverModel> Driver =
        from rated in Optional
        from volts in Optional
        from most in Optional
        from least in Optional
        from watts in Optional
        from tolerance in Number
        select new DriverModel
        {
            RatedMilliamps = rated,
            RatedVolts = volts,
            MostVolts = most,
            LeastVolts = least,
            MostWatts = watts,
            MostAmps = most,
            OpenCircuitVolts = most,
            OutputTolerancePercent = tolerance,
        };

    private static readonly Gen<CircuitModel> Circuit =
        from drive in Mostly(Gen.Elements(Enum.GetValues<DriveKind>()), Gen.Constant((DriveKind)7))
        from driver in Mostly(Driver, Gen.Constant<DriverModel>(null!))
        from count in Gen.Choose(0, 5)
        from fittings in Mostly(Fitting, Gen.Constant<FittingModel>(null!)).ListOf(count)
        from runs in Mostly(Run, Gen.Constant<RunModel>(null!)).ListOf(count)
        from unset in Gen.Choose(0, 20)
        from raw in Gen.Choose(0, 9)
        from ring in Gen.Choose(0, 4)
        select new CircuitModel(
            drive, driver,
            unset == 0 ? default : [.. raw == 0 ? fittings : fittings.Select(Named)],
            unset == 1 ? default : [.. raw == 0 ? runs : runs.Select(Chained).Concat(Rings(runs, ring))]);

    private static readonly Gen<CircuitChange> Change =
        from kind in Gen.Choose(0, 16)
        from part in Mostly(Gen.Choose(-1, 4), Gen.Elements(-7, 1000, int.MaxValue))
        from figure in Number
        from node in Name
        select Made(kind, part, figure, node);

    private static readonly Gen<MeasuredReading> Reading =
        from place in Name
        from quantity in Mostly(Gen.Elements(Enum.GetValues<MeasuredQuantity>()), Gen.Constant((MeasuredQuantity)11))
        from value in Number
        from meter in Gen.Elements<MeterAccuracy?>(
            null, new(1, 3, 0.01), new(0, 0, 0), new(double.NaN, 1, 1), new(-1, 1, 1), new(100, 1000, 1000))
        select new MeasuredReading(place, quantity, value) { Meter = meter };

    public static Arbitrary<CircuitModel> Circuits() => Circuit.ToArbitrary();

    public static Arbitrary<MeasuredReading> Readings() => Reading.ToArbitrary();

    public static Arbitrary<CircuitChange[]> Changes() =>
        Gen.Choose(0, 7).SelectMany(count => Change.ArrayOf(count)).ToArbitrary();

    public static Arbitrary<Assumptions> AnyAssumptions() => (
        from number in Gen.Frequency((4, Gen.Constant(5.0)), (1, Odd))
        from which in Gen.Choose(0, 6)
        select which switch
        {
            0 => new Assumptions { Buried = new(number, 5) },
            1 => new Assumptions { WarmBox = new(40, number) },
            2 => new Assumptions { ConductorBelowMaximumPercent = number },
            3 => new Assumptions { FittingTemperatureStandardUncertaintyKelvin = number },
            4 => new Assumptions { ForwardVoltsPerKelvinPerVolt = number },
            5 => new Assumptions { Led = new LedCurve(number, number) },
            _ => new Assumptions { StatedTemperatureStandardUncertaintyKelvin = number },
        }).ToArbitrary();

    private static CircuitChange Made(int kind, int part, double figure, string node) => kind switch
    {
        0 => new FittingHasWatts(part, figure),
        1 => new FittingBypassed(part, figure),
        2 => new FittingOpen(part),
        3 => new FittingAdded(node, figure),
        4 => new FittingForOtherDrive(part, figure),
        5 => new RunOpen(part),
        6 => new RunJointOhms(part, figure),
        7 => new RunLengthFactor(part, figure),
        8 => new RunHasArea(part, figure),
        9 => new CoresBridged(node, figure),
        10 => new CoresBridged(node, 0),
        11 => new DriverGives(figure),
        12 => new DriverDead(),
        13 => new SupplyReversed(),
        14 => new MeterLeadsReversed(),
        15 => new MeterOnWrongRange(MeasuredQuantity.VoltsDc, figure),
        _ => null!,
    };

    // Most circuits hang together, so that the odd figures in them are reached.
    private static FittingModel Named(FittingModel? fitting, int i) =>
        fitting is null ? null! : fitting with { Id = $"n{i}" };

    private static RunModel Chained(RunModel? run, int i) => run is null
        ? null!
        : run with { Id = $"r{i}", From = i == 0 ? CircuitModel.DriverNode : $"n{i - 1}", To = $"n{i}" };

    private static IEnumerable<RunModel> Rings(List<RunModel> runs, int ring) =>
        ring < runs.Count && runs[ring] is { } run
            ? [run with { Id = "ring", From = $"n{ring}", To = CircuitModel.DriverNode }]
            : [];

    private static Gen<T> Mostly<T>(Gen<T> sane, Gen<T> odd) => Gen.Frequency((40, sane), (1, odd));
}

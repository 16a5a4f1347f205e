using FleetLight.Contracts;

namespace FleetLight.Demo.Physics;

/// <summary>A fitting as it truly is.</summary>
/// <param name="Id">The fitting, which is also the place where it stands.</param>
/// <param name="Watts">Power at the rated drive, W.</param>
internal sealed record TrueFitting(string Id, double Watts);

/// <summary>A run of cable as it truly is.</summary>
/// <param name="From">The place that feeds it.</param>
/// <param name="To">The place at its far end.</param>
/// <param name="LoopOhmsAt20">Cable out and back at 20 °C, Ω.</param>
/// <param name="ContactOhms">The contacts of its joints, Ω.</param>
internal sealed record TrueRun(string From, string To, double LoopOhmsAt20, double ContactOhms);

/// <summary>What a faultless meter would read.</summary>
/// <param name="DriverVolts">At the driver, V.</param>
/// <param name="DriverMilliamps">At the driver, mA.</param>
/// <param name="VoltsAt">Volts at every place (constant voltage).</param>
internal sealed record TrueReading(double DriverVolts, double DriverMilliamps, IReadOnlyDictionary<string, double> VoltsAt);

/// <summary>A circuit as it truly is, known to nobody but the demo.</summary>
internal sealed record TrueCircuit
{
    /// <summary>How it is driven.</summary>
    public required DriveKind Drive { get; init; }

    /// <summary>Rated current, A (constant current), or rated voltage, V (constant voltage).</summary>
    public required double RatedOutput { get; init; }

    /// <summary>What the driver truly gives of that, as a factor about 1.</summary>
    public required double OutputFactor { get; init; }

    /// <summary>Voltage up to which a constant-current driver regulates, V.</summary>
    public double MostVolts { get; init; } = double.PositiveInfinity;

    /// <summary>Voltage at the open output, V.</summary>
    public double OpenVolts { get; init; }

    /// <summary>The fittings.</summary>
    public required IReadOnlyList<TrueFitting> Fittings { get; init; }

    /// <summary>The runs, each after the one that feeds it.</summary>
    public required IReadOnlyList<TrueRun> Runs { get; init; }

    /// <summary>What befalls it.</summary>
    public IReadOnlyList<Mishap> Mishaps { get; init; } = [];

    /// <summary>What it would read at that time.</summary>
    public TrueReading At(DateTimeOffset at, Season season)
    {
        var soil = Season.SoilCelsius(at);
        return Drive == DriveKind.ConstantCurrent
            ? Series(at, soil, season.AirCelsius(at))
            : Parallel(at, soil);
    }

    /// <summary>Loop resistance with every fitting bridged, Ω.</summary>
    public double LoopOhms(DateTimeOffset at) => Runs.Sum(run => Ohms(run, at, Season.SoilCelsius(at)));

    private TrueReading Series(DateTimeOffset at, double soil, double air)
    {
        var fittings = Fittings.Select(fitting => new LedFitting(Watts(fitting, at), RatedOutput)).ToArray();
        var ohms = Runs.Sum(run => Ohms(run, at, soil));
        var driver = new SeriesString(RatedOutput * OutputFactor, MostVolts, OpenVolts);
        var open = Fittings.Any(fitting => Dark(fitting.Id, at));
        var (volts, amps) = driver.Solve(fittings, ohms, air, open);
        return new TrueReading(volts, amps * 1000, new Dictionary<string, double>());
    }

    private TrueReading Parallel(DateTimeOffset at, double soil)
    {
        var index = Runs.Select((run, position) => (run.To, position)).ToDictionary(pair => pair.To, pair => pair.position);
        var branches = Runs.Select(run => new FeedBranch(
            index.GetValueOrDefault(run.From, -1),
            Ohms(run, at, soil),
            Fittings.Where(fitting => fitting.Id == run.To && !Dark(fitting.Id, at)).Sum(fitting => Watts(fitting, at)))).ToArray();
        var driverVolts = RatedOutput * OutputFactor;
        var (volts, amps) = FeedTree.Solve(driverVolts, branches);
        return new TrueReading(driverVolts, amps * 1000, index.ToDictionary(pair => pair.Key, pair => volts[pair.Value]));
    }

    private double Ohms(TrueRun run, DateTimeOffset at, double soil) =>
        Copper.At(run.LoopOhmsAt20, soil) + run.ContactOhms
        + Mishaps.OfType<BadJoint>().Where(joint => joint.At == run.To && joint.IsAt(at)).Sum(joint => joint.OhmsAt(at));

    private double Watts(TrueFitting fitting, DateTimeOffset at) =>
        Mishaps.OfType<OtherFitting>().LastOrDefault(other => other.FittingId == fitting.Id && other.IsAt(at))?.Watts ?? fitting.Watts;

    private bool Dark(string fittingId, DateTimeOffset at) =>
        Mishaps.OfType<NoCurrent>().Any(none => none.FittingId == fittingId && none.IsAt(at));
}

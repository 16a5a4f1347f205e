using System.Diagnostics.Metrics;
using OpenTelemetry.Metrics;

namespace FleetLight.Service.Hosting;

/// <summary>
/// What the service's instruments share. Names and units are as OpenTelemetry and UCUM have them; no attribute holds an id, so
/// the number of series is bounded whatever is handed in.
/// </summary>
public static class Measures
{
    /// <summary>Name of the service's meter.</summary>
    public const string MeterName = "FleetLight";

    /// <summary>Attribute that says how something ended.</summary>
    public const string Outcome = "fleetlight.outcome";

    /// <summary>Buckets of times from a millisecond to some minutes.</summary>
    public static InstrumentAdvice<double> Seconds { get; } = new()
    {
        HistogramBucketBoundaries = [0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10, 30, 60, 300],
    };

    /// <summary>Buckets of times from ten microseconds to a second.</summary>
    public static InstrumentAdvice<double> ShortSeconds { get; } = new()
    {
        HistogramBucketBoundaries = [0.00001, 0.000025, 0.00005, 0.0001, 0.00025, 0.0005, 0.001, 0.0025, 0.005, 0.01, 0.025, 0.1, 0.5, 1],
    };

    /// <summary>Buckets of numbers of things in one go.</summary>
    public static InstrumentAdvice<int> Counts { get; } = new()
    {
        HistogramBucketBoundaries = [1, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000],
    };

    /// <summary>How instruments of others are shown where their own way will not do; none for the rest.</summary>
    public static MetricStreamConfiguration? ViewOf(Instrument instrument) => instrument.Name switch
    {
        // Given in seconds, with buckets that were meant for milliseconds.
        "db.client.commands.duration" or "db.client.connections.create_time" =>
            new ExplicitBucketHistogramConfiguration { Boundaries = [.. Seconds.HistogramBucketBoundaries!] },
        // Prometheus takes a name with this ending for part of a histogram.
        "dotnet.assembly.count" or "dotnet.timer.count" or "dotnet.process.cpu.count" => MetricStreamConfiguration.Drop,
        _ => null,
    };
}

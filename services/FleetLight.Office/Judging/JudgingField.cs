using System.Globalization;
using FleetLight.Contracts.Views;

namespace FleetLight.Office.Judging;

/// <summary>One of the settings as it is shown and typed.</summary>
public sealed record JudgingField
{
    /// <summary>The contract's name of the member.</summary>
    public required string Id { get; init; }

    /// <summary>What it is.</summary>
    public required string Label { get; init; }

    /// <summary>Its unit.</summary>
    public required string Unit { get; init; }

    /// <summary>Its range and default.</summary>
    public required string About { get; init; }

    /// <summary>Reads it; several where it is a list.</summary>
    public required Func<JudgingSettings, double[]?> Get { get; init; }

    /// <summary>Sets it.</summary>
    public required Func<JudgingSettings, double[]?, JudgingSettings> Set { get; init; }

    /// <summary>Whether it is a list of numbers.</summary>
    public bool IsList { get; init; }

    /// <summary>All; the ranges and defaults are those of the contract.</summary>
    public static IReadOnlyList<JudgingField> All { get; } =
    [
        One("falseAlarmPercent", "Risk of a false alarm", "%", "0.01 to 20; 0.3 where empty.", s => s.FalseAlarmPercent, (s, v) => s with { FalseAlarmPercent = v }),
        One("missedFaultPercent", "Risk of a missed fault", "%", "0.1 to 50; 5 where empty.", s => s.MissedFaultPercent, (s, v) => s with { MissedFaultPercent = v }),
        One("asDesignedPercent", "Circuits that are as designed", "%", "Before anything is measured, 1 to 99.9; 90 where empty.", s => s.AsDesignedPercent, (s, v) => s with { AsDesignedPercent = v }),
        One("smallestDifferencePercent", "Smallest difference that matters", "%", "0.1 to 100; any where empty.", s => s.SmallestDifferencePercent, (s, v) => s with { SmallestDifferencePercent = v }),
        One("stopAtPercent", "An explanation is found at", "%", "51 to 99.9; 95 where empty.", s => s.StopAtPercent, (s, v) => s with { StopAtPercent = v }),
        One("driftLeadDays", "A slow drift is told before", "days", "1 to 365; 60 where empty.", s => s.DriftLeadDays, (s, v) => s with { DriftLeadDays = v }),
        One("buriedCelsius", "Conductors in the ground", "°C", "−30 to 60; 15 where empty.", s => s.BuriedCelsius, (s, v) => s with { BuriedCelsius = v }),
        One("inAirCelsius", "Conductors in open air", "°C", "−40 to 80; 20 where empty.", s => s.InAirCelsius, (s, v) => s with { InAirCelsius = v }),
        One("warmBoxCelsius", "Conductors in a warm enclosure", "°C", "0 to 100; 50 where empty.", s => s.WarmBoxCelsius, (s, v) => s with { WarmBoxCelsius = v }),
        List("catalogueWatts", "Fittings that the crews carry", "W", "Up to 64 ratings, parted by blanks; general ones where empty.", s => s.CatalogueWatts, (s, v) => s with { CatalogueWatts = v }),
        List("driverMilliamps", "Drivers, constant current", "mA", "Up to 16, parted by blanks; general ones where empty.", s => s.DriverMilliamps, (s, v) => s with { DriverMilliamps = v }),
        List("driverVolts", "Drivers, constant voltage", "V", "Up to 16, parted by blanks; general ones where empty.", s => s.DriverVolts, (s, v) => s with { DriverVolts = v }),
    ];

    /// <summary>The field that a problem names.</summary>
    public static JudgingField? Named(string? field) => All.FirstOrDefault(each => field == each.Id || field?.StartsWith(each.Id + "[", StringComparison.Ordinal) == true);

    /// <summary>As it is shown.</summary>
    public string Show(JudgingSettings settings) =>
        Get(settings) is { } values ? string.Join(' ', values.Select(value => value.ToString("R", CultureInfo.InvariantCulture))) : "";

    /// <summary>Takes what was typed; empty takes the setting away.</summary>
    public bool TryTake(string? text, JudgingSettings settings, out JudgingSettings taken)
    {
        taken = settings;
        string[] parts = (text ?? "").Split([' ', ';', '\t', '\n'], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        if (parts.Length == 0)
        {
            taken = Set(settings, null);
            return true;
        }

        var values = new double[parts.Length];
        for (var index = 0; index < parts.Length; index++)
        {
            // A decimal comma is what many keyboards have, a true minus what many texts have.
            var part = parts[index].TrimEnd(',').Replace(',', '.').Replace('−', '-');
            if (!double.TryParse(part, NumberStyles.Float, CultureInfo.InvariantCulture, out values[index])) return false;
        }

        if (!IsList && values.Length > 1) return false;
        taken = Set(settings, values);
        return true;
    }

    private static JudgingField One(
        string id, string label, string unit, string about, Func<JudgingSettings, double?> get, Func<JudgingSettings, double?, JudgingSettings> set) => new()
        {
            Id = id,
            Label = label,
            Unit = unit,
            About = about,
            Get = settings => get(settings) is { } value ? [value] : null,
            Set = (settings, values) => set(settings, values?[0]),
        };

    private static JudgingField List(
        string id, string label, string unit, string about, Func<JudgingSettings, double[]?> get, Func<JudgingSettings, double[]?, JudgingSettings> set) => new()
        {
            Id = id,
            Label = label,
            Unit = unit,
            About = about,
            Get = get,
            Set = set,
            IsList = true,
        };
}

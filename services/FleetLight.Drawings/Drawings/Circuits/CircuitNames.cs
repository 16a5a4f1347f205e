using FleetLight.Contracts;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Views;

namespace FleetLight.PageParts.Drawings.Circuits;

/// <summary>What the parts of a circuit are called on the pages: by number and label, since their ids mean nothing to people.</summary>
public sealed class CircuitNames
{
    private const int LongestId = 14;

    private readonly Dictionary<string, int> numbers = new(StringComparer.Ordinal);
    private readonly Dictionary<string, string> boxes = new(StringComparer.Ordinal);
    private readonly Dictionary<string, CableView> cables = new(StringComparer.Ordinal);
    private readonly Dictionary<string, RunInput> runs = new(StringComparer.Ordinal);

    /// <summary>The names of a circuit's parts.</summary>
    public CircuitNames(CircuitParts parts)
    {
        ArgumentNullException.ThrowIfNull(parts);
        foreach (var fitting in parts.Circuit?.Fittings ?? []) numbers.TryAdd(fitting.FittingId, numbers.Count + 1);
        foreach (var run in parts.Circuit?.Runs ?? []) runs.TryAdd(run.RunId, run);
        foreach (var box in parts.Boxes) boxes.TryAdd(box.Id, box.Label ?? Shortened(box.Id));
        foreach (var cable in parts.Cables) cables.TryAdd(cable.Id, cable);
    }

    /// <summary>A place in few characters: <c>Driver</c>, <c>Fitting 3</c>, <c>Box by the steps</c>.</summary>
    public string OfPlace(string place)
    {
        ArgumentNullException.ThrowIfNull(place);
        if (place == CircuitParts.DriverPlace) return "Driver";
        if (numbers.TryGetValue(place, out var number)) return $"Fitting {number}";
        return Named("Box", boxes.GetValueOrDefault(place) ?? Shortened(place));
    }

    /// <summary>The number of a fitting in the order of the circuit, from 1; none for any other place.</summary>
    public int? NumberOf(string place) => numbers.TryGetValue(place, out var number) ? number : null;

    /// <summary>A cable by its label.</summary>
    public string OfCable(string id)
    {
        ArgumentNullException.ThrowIfNull(id);
        var label = cables.GetValueOrDefault(id)?.Labels is { } labels
            ? labels.GetValueOrDefault(RunEnd.Near) ?? labels.GetValueOrDefault(RunEnd.Far)
            : null;
        return Named("Cable", label ?? Shortened(id));
    }

    /// <summary>A run by its ends.</summary>
    public string OfRun(RunInput run)
    {
        ArgumentNullException.ThrowIfNull(run);
        return $"Run from {InSentence(run.From)} to {InSentence(run.To)}";
    }

    /// <summary>Any part of the circuit: a place, or a run by its ends.</summary>
    public string OfPart(string id) => runs.TryGetValue(id, out var run) ? OfRun(run) : OfPlace(id);

    /// <summary>A place within a sentence: its kind in small letters.</summary>
    public string InSentence(string place)
    {
        if (place == CircuitParts.DriverPlace) return "the driver";
        var name = OfPlace(place);
        return char.ToLowerInvariant(name[0]) + name[1..];
    }

    /// <summary>An id in at most 14 characters: of a long one its end, where ids that were made one after the other differ.</summary>
    public static string Shortened(string id)
    {
        ArgumentNullException.ThrowIfNull(id);
        return id.Length <= LongestId ? id : string.Concat("…", id.AsSpan(id.Length - LongestId + 1));
    }

    private static string Named(string kind, string name) =>
        name.StartsWith(kind, StringComparison.OrdinalIgnoreCase) ? string.Concat(kind, name.AsSpan(kind.Length)) : $"{kind} {name}";
}

using System.Text.Json;
using FleetLight.Contracts.Facts;

namespace FleetLight.Contracts.Views;

/// <summary>By when work should be done: what comes later hides it, or is not safe without it.</summary>
public enum WorkPhase
{
    /// <summary>Before the ground is closed: it cannot be reached afterwards without digging.</summary>
    BeforeCover,

    /// <summary>Before the circuit is energised.</summary>
    BeforeEnergising,

    /// <summary>Before the circuit is handed over.</summary>
    BeforeHandover,
}

/// <summary>What is missing on a site before the crew leaves it. Advice, never a certificate.</summary>
public sealed record OpenPointsView
{
    /// <summary>The site.</summary>
    public required string SiteId { get; init; }

    /// <summary>The phase asked for: points of it and of those before it are listed; all where absent.</summary>
    public WorkPhase? Phase { get; init; }

    /// <summary>The points, by place, then by phase, then the weightiest first.</summary>
    public required IReadOnlyList<OpenPoint> Points { get; init; }

    /// <summary>What to look after though no fact records it, so that the list cannot say whether it was done.</summary>
    public required IReadOnlyList<Reminder> Reminders { get; init; }
}

/// <summary>Something that is not done, or not recorded.</summary>
public sealed record OpenPoint
{
    /// <summary>The point: the same as long as it stands, on every list.</summary>
    public required string Key { get; init; }

    /// <summary>The thing it is about.</summary>
    public required ThingRef Thing { get; init; }

    /// <summary>What people call the thing: its label or name, else its id.</summary>
    public required string Label { get; init; }

    /// <summary>The part of the thing: a fitting, a core, a joint or an end; none where it is the whole.</summary>
    public string? Part { get; init; }

    /// <summary>Where it is, in words, where somebody said.</summary>
    public string? Place { get; init; }

    /// <summary>Where it is.</summary>
    public GeoPoint? Position { get; init; }

    /// <summary>What is missing, in plain words.</summary>
    public required string Missing { get; init; }

    /// <summary>What to do, in plain words, with its caution.</summary>
    public required string Remedy { get; init; }

    /// <summary>By when it should be done.</summary>
    public required WorkPhase Phase { get; init; }

    /// <summary>How much it matters: that of the rules that find it, and work left to do where none does.</summary>
    public required AlertSeverity Severity { get; init; }

    /// <summary>The rules that find it; <c>GET /v1/rules</c> lists them. Empty where only the record is short of it.</summary>
    public required IReadOnlyList<string> Rules { get; init; }

    /// <summary>The circuits it touches, where known.</summary>
    public required IReadOnlyList<string> CircuitIds { get; init; }

    /// <summary>
    /// The facts of which any one takes it off the list, the usual one first; none where a design has to change or a fact has to
    /// be corrected. They are made from the state as read: after one is recorded, the others may say too little.
    /// </summary>
    public required IReadOnlyList<TickOff> TicksOff { get; init; }
}

/// <summary>A fact that takes a point off the list once it is recorded.</summary>
public sealed record TickOff
{
    /// <summary>What is recorded with it, in a few plain words.</summary>
    public required string Says { get; init; }

    /// <summary>Type of the fact.</summary>
    public required string Type { get; init; }

    /// <summary>Its data as far as it is known. Whoever records it says that it is so.</summary>
    public required JsonElement Data { get; init; }

    /// <summary>Members of the data that are still to be filled in; where there is none the data is whole.</summary>
    public required IReadOnlyList<string> Asks { get; init; }
}

/// <summary>Something to look after of which no fact can say that it was done.</summary>
/// <param name="Thing">The thing it is about.</param>
/// <param name="Label">What people call it.</param>
/// <param name="Says">What to look after, in plain words.</param>
public sealed record Reminder(ThingRef Thing, string Label, string Says);

using System.Text.Json;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;

namespace FleetLight.FieldAgent.Outbox;

/// <summary>A fact as its writer hands it to the agent.</summary>
public sealed record NewFact
{
    /// <summary>Name of the type of fact with its version.</summary>
    [Text(80)]
    public required string Type { get; init; }

    /// <summary>What the type asks.</summary>
    public required JsonElement Data { get; init; }

    /// <summary>When it happened; now where absent.</summary>
    public DateTimeOffset? Time { get; init; }

    /// <summary>
    /// The writer's own name for it, at most 100 characters: a writer that does not know whether it was answered asks again with
    /// the same one, and the fact is recorded once.
    /// </summary>
    [Text(100)]
    public string? Reference { get; init; }

    /// <summary>Record it although it is wrong: the service sets it aside and the office mends it. Not where absent.</summary>
    public bool? AsItIs { get; init; }
}

/// <summary>A fact that is on disk.</summary>
/// <param name="Number">Its running number.</param>
/// <param name="Id">Its id.</param>
/// <param name="Known">Whether it was recorded before, under the same reference.</param>
public sealed record WrittenFact(int Number, string Id, bool Known);

/// <summary>Where a fact stands.</summary>
public enum FactState
{
    /// <summary>It waits to be sent.</summary>
    Waiting,

    /// <summary>Something between here and the service does not let it pass; it is tried again later.</summary>
    Held,

    /// <summary>The service has recorded it.</summary>
    InHand,

    /// <summary>The service has set it aside: mend it, or leave it to the office.</summary>
    Refused,
}

/// <summary>A fact of the outbox.</summary>
public sealed record KeptFact
{
    /// <summary>Its running number.</summary>
    public required int Number { get; init; }

    /// <summary>Its id.</summary>
    public required string Id { get; init; }

    /// <summary>Its type.</summary>
    public required string Type { get; init; }

    /// <summary>The site it names, where it names one.</summary>
    public string? Site { get; init; }

    /// <summary>When it happened.</summary>
    public required DateTimeOffset Time { get; init; }

    /// <summary>When it was recorded here.</summary>
    public required DateTimeOffset WrittenAt { get; init; }

    /// <summary>Where it stands.</summary>
    public required FactState State { get; init; }

    /// <summary>When the service answered for it.</summary>
    public DateTimeOffset? AnsweredAt { get; init; }

    /// <summary>Why it was refused or is held.</summary>
    public Problem? Problem { get; init; }

    /// <summary>Under which id the service set it aside.</summary>
    public string? RefusedId { get; init; }

    /// <summary>Number of the refused fact that it mends.</summary>
    public int? Mends { get; init; }

    /// <summary>Number of the fact that mends it.</summary>
    public int? MendedBy { get; init; }

    /// <summary>The event as it is sent.</summary>
    public JsonElement? Event { get; init; }
}

/// <summary>How many facts stand where.</summary>
/// <param name="Waiting">Number that wait.</param>
/// <param name="Held">Number that are held.</param>
/// <param name="InHand">Number that the service has recorded and that are still kept here.</param>
/// <param name="Refused">Number that were refused and that nothing mends yet.</param>
public sealed record FactCounts(long Waiting, long Held, long InHand, long Refused);

/// <summary>A fact that is to be sent.</summary>
/// <param name="Number">Its running number.</param>
/// <param name="Id">Its id.</param>
/// <param name="Text">The event.</param>
internal sealed record OutgoingFact(int Number, string Id, byte[] Text);

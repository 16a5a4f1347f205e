using System.Globalization;
using System.Text.Json;
using FleetLight.Contracts.Wire;
using FleetLight.FieldAgent.Outbox;
using FleetLight.FieldAgent.Sending;

namespace FleetLight.FieldAgent;

/// <summary>How the agent stands.</summary>
public sealed record AgentStatus
{
    /// <summary>Where the outbox is.</summary>
    public required string Folder { get; init; }

    /// <summary>The device; none where it is not enrolled.</summary>
    public string? Source { get; init; }

    /// <summary>The service.</summary>
    public Uri? Service { get; init; }

    /// <summary>The organisation.</summary>
    public string? Organisation { get; init; }

    /// <summary>Public part of the key.</summary>
    public string? KeyId { get; init; }

    /// <summary>Whether a sender runs now, in this process or another.</summary>
    public required bool Sending { get; init; }

    /// <summary>How many facts stand where.</summary>
    public required FactCounts Facts { get; init; }

    /// <summary>The greatest running number given.</summary>
    public required int LastNumber { get; init; }

    /// <summary>The service's newest word on what it has.</summary>
    public Receipt? Receipt { get; init; }

    /// <summary>When the service last answered for facts.</summary>
    public DateTimeOffset? HeardAt { get; init; }

    /// <summary>What is in the way of sending.</summary>
    public string? Trouble { get; init; }

    /// <summary>What is odd and that a person should know.</summary>
    public string? Remark { get; init; }

    /// <summary>The sites that are kept here.</summary>
    public required IReadOnlyList<string> Sites { get; init; }

    /// <summary>When they were last brought up to date.</summary>
    public DateTimeOffset? ReceivedAt { get; init; }

    /// <summary>How it stands now.</summary>
    internal static AgentStatus Of(AgentParts parts)
    {
        var identity = parts.Identities.Find();
        using var alone = SenderLock.TryTake(parts.Options.Folder);
        var counts = parts.Shelf.Count();
        return parts.Outbox.Read(statements => new AgentStatus
        {
            Folder = parts.Options.Folder,
            Source = identity?.Source,
            Service = identity?.Address,
            Organisation = identity?.Organisation,
            KeyId = identity?.KeyId,
            Sending = alone is null,
            Facts = counts,
            LastNumber = int.Parse(statements.Get(Settings.LastNumber)!, CultureInfo.InvariantCulture),
            Receipt = statements.Get(Settings.Receipt) is { } receipt ? JsonSerializer.Deserialize<Receipt>(receipt, WireJson.Lenient) : null,
            HeardAt = Moment(statements, Settings.HeardAt),
            Trouble = Filled(statements.Get(Settings.Trouble)),
            Remark = Filled(statements.Get(Settings.Remark)),
            Sites = statements.Get(Settings.Sites) is { } sites ? JsonSerializer.Deserialize<string[]>(sites)! : [],
            ReceivedAt = Moment(statements, Settings.ReceivedAt),
        });
    }

    private static DateTimeOffset? Moment(Statements statements, string name) => statements.Get(name) is { Length: > 0 } text ? Moments.Read(text) : null;

    private static string? Filled(string? text) => string.IsNullOrEmpty(text) ? null : text;
}

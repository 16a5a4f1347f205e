using System.Text.Json;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Secrets;
using Npgsql;

namespace FleetLight.Service.Subscriptions;

/// <summary>Somebody who is told, as kept.</summary>
public sealed record Subscription
{
    /// <summary>Whose it is.</summary>
    public required string Organisation { get; init; }

    /// <summary>The subscription.</summary>
    public required string Id { get; init; }

    /// <summary>The holder of the key that made it, with which it ends; the organisation itself where absent.</summary>
    public string? Holder { get; init; }

    /// <summary>Where to tell.</summary>
    public required string Url { get; init; }

    /// <summary>What is told.</summary>
    public required StreamFilter Filter { get; init; }

    /// <summary>What signs.</summary>
    public required SealedSecrets Secrets { get; init; }

    /// <summary>When it was made.</summary>
    public required DateTimeOffset CreatedAt { get; init; }

    /// <summary>Through where it was told.</summary>
    public required StreamPlace Place { get; init; }

    /// <summary>When to tell on, at the earliest.</summary>
    public required DateTimeOffset DueAt { get; init; }

    /// <summary>How often the next thing was tried in full.</summary>
    public int Attempts { get; init; }

    /// <summary>What went wrong last.</summary>
    public string? LastError { get; init; }

    /// <summary>When something was taken last.</summary>
    public DateTimeOffset? ToldAt { get; init; }

    /// <summary>Whether it ended with its key.</summary>
    public bool Ended { get; init; }

    /// <summary>The columns from which it is read.</summary>
    internal const string Columns =
        "s.tenant_id, s.id, s.holder, s.url, s.filter, s.sealed, s.sealed_before, s.before_until, s.created_at, s.position, s.ordinal, s.due_at, s.attempts, "
        + "s.last_error, s.told_at, s.ended";

    /// <summary>Reads it.</summary>
    internal static Subscription Read(NpgsqlDataReader reader) => new()
    {
        Organisation = reader.GetString(0),
        Id = reader.GetString(1),
        Holder = Text(reader, 2),
        Url = reader.GetString(3),
        Filter = JsonSerializer.Deserialize<StreamFilter>(reader.GetString(4), WireJson.Lenient)!,
        Secrets = new SealedSecrets(reader.GetString(5), Text(reader, 6), Time(reader, 7)),
        CreatedAt = reader.GetFieldValue<DateTimeOffset>(8),
        Place = new StreamPlace(reader.GetInt64(9), reader.GetInt32(10)),
        DueAt = reader.GetFieldValue<DateTimeOffset>(11),
        Attempts = reader.GetInt32(12),
        LastError = Text(reader, 13),
        ToldAt = Time(reader, 14),
        Ended = reader.GetBoolean(15),
    };

    private static string? Text(NpgsqlDataReader reader, int column) => reader.IsDBNull(column) ? null : reader.GetString(column);

    private static DateTimeOffset? Time(NpgsqlDataReader reader, int column) => reader.IsDBNull(column) ? null : reader.GetFieldValue<DateTimeOffset>(column);
}

/// <summary>Something that could not be told, as kept.</summary>
/// <param name="Id">The message, as in <c>webhook-id</c>.</param>
/// <param name="Place">Its place.</param>
/// <param name="Type">Type of the event.</param>
/// <param name="Source">Source of the event.</param>
/// <param name="EventId">Id of the event.</param>
/// <param name="Error">What went wrong last.</param>
/// <param name="ParkedAt">When it was given up.</param>
/// <param name="Again">Whether it is on its way again.</param>
public sealed record ParkedMessage(string Id, StreamPlace Place, string Type, string Source, string EventId, string Error, DateTimeOffset ParkedAt, bool Again);

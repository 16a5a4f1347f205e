using System.Globalization;
using System.Text.Json;

namespace FleetLight.Contracts.Proofs;

/// <summary>What a checkpoint says: that the ledger of an organisation had so many facts with that root by then.</summary>
/// <param name="Organisation">Whose ledger.</param>
/// <param name="Size">How many facts.</param>
/// <param name="Root">Root of the tree over them, 32 bytes.</param>
/// <param name="MadeAt">When it was made, by the service's clock; to whole milliseconds.</param>
public sealed record CheckpointNote(string Organisation, long Size, byte[] Root, DateTimeOffset MadeAt)
{
    /// <summary>The word that says what is signed, so that no other signed text is taken for it.</summary>
    public const string Kind = "fleetlight-ledger-checkpoint-v1";

    /// <summary>How a time is written: UTC with milliseconds.</summary>
    public const string TimeForm = "yyyy-MM-dd'T'HH:mm:ss.fff'Z'";

    /// <summary>The bytes that are signed: canonical JSON.</summary>
    public byte[] Payload()
    {
        using var document = JsonDocument.Parse(JsonSerializer.SerializeToUtf8Bytes(new Dictionary<string, object>
        {
            ["kind"] = Kind,
            ["organisation"] = Organisation,
            ["size"] = Size,
            ["root"] = Convert.ToHexStringLower(Root),
            ["madeAt"] = MadeAt.UtcDateTime.ToString(TimeForm, CultureInfo.InvariantCulture),
        }));
        return CanonicalJson.Of(document.RootElement);
    }

    /// <summary>Reads such bytes; none where they are not what this writes.</summary>
    public static CheckpointNote? Read(ReadOnlySpan<byte> payload)
    {
        try
        {
            using var document = JsonDocument.Parse(payload.ToArray());
            var root = document.RootElement;
            var note = new CheckpointNote(
                root.GetProperty("organisation").GetString()!, root.GetProperty("size").GetInt64(), Convert.FromHexString(root.GetProperty("root").GetString()!),
                DateTimeOffset.ParseExact(root.GetProperty("madeAt").GetString()!, TimeForm, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal));
            // Member for member: what else would stand in it was signed as well and is not known here.
            return note.Size >= 0 && note.Root.Length == MerkleHash.Length && payload.SequenceEqual(note.Payload()) ? note : null;
        }
        catch (Exception unread) when (
            unread is JsonException or KeyNotFoundException or InvalidOperationException or FormatException or ArgumentException)
        {
            return null;
        }
    }
}

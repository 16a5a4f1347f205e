using System.Globalization;
using System.Text;
using FleetLight.Contracts.Views;
using FleetLight.Service.Store;
using Npgsql;

namespace FleetLight.Service.Exports;

/// <summary>
/// The leaf hashes of a ledger up to a checkpoint, a line of 64 hexadecimal digits each. With them whoever checks an export can say
/// which line was altered; that they are the right ones, the root says.
/// </summary>
public sealed class LeafHashes(NpgsqlDataSource database, string organisation, CheckpointView checkpoint) : IStableFile
{
    private const int LineLength = 65;
    private const int PageLength = 4000;

    /// <inheritdoc/>
    public string MediaType => "text/plain";

    /// <inheritdoc/>
    public string Name => string.Create(CultureInfo.InvariantCulture, $"leaf-hashes-{checkpoint.Size}.txt");

    /// <inheritdoc/>
    public string Tag => string.Create(CultureInfo.InvariantCulture, $"\"leaves-{checkpoint.Size}-{checkpoint.Root[..32]}\"");

    /// <inheritdoc/>
    public long Length => checkpoint.Size * LineLength;

    /// <inheritdoc/>
    public byte[]? Sha256 => null;

    /// <inheritdoc/>
    public async Task<byte[]?> WriteAsync(Stream into, long from, long to, CancellationToken cancel)
    {
        using var hash = from == 0 && to == Length ? System.Security.Cryptography.IncrementalHash.CreateHash(System.Security.Cryptography.HashAlgorithmName.SHA256) : null;
        var leaf = from / LineLength;
        var skip = (int)(from % LineLength);
        var left = to - from;
        while (left > 0)
        {
            var bytes = await PageAsync(leaf, cancel);
            if (bytes.Length == 0) break;
            leaf += bytes.Length / LineLength;
            var part = bytes.AsMemory(skip, (int)Math.Min(bytes.Length - skip, left));
            hash?.AppendData(part.Span);
            await into.WriteAsync(part, cancel);
            left -= part.Length;
            skip = 0;
        }

        return hash?.GetHashAndReset();
    }

    private async Task<byte[]> PageAsync(long leaf, CancellationToken cancel)
    {
        await using var command = database.CreateCommand(
            $"select hash from {Tables.Schema}.fl_ledger_leaf where tenant_id = $1 and leaf >= $2 and leaf < $3 order by leaf");
        foreach (var value in (object[])[organisation, leaf, Math.Min(leaf + PageLength, checkpoint.Size)])
            command.Parameters.Add(new NpgsqlParameter { Value = value });
        var lines = new StringBuilder();
        await using var reader = await command.ExecuteReaderAsync(cancel);
        while (await reader.ReadAsync(cancel)) lines.Append(Convert.ToHexStringLower(reader.GetFieldValue<byte[]>(0))).Append('\n');
        return Encoding.ASCII.GetBytes(lines.ToString());
    }
}

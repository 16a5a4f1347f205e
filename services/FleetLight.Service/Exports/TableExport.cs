using System.IO.Compression;
using System.Security.Cryptography;
using System.Text;

namespace FleetLight.Service.Exports;

/// <summary>
/// A table, written once and held in memory compressed, a tenth of its size, so that its tag and its digest are known before its first
/// byte is sent and a slow reader holds up nobody in the database.
/// </summary>
public sealed class TableExport : IStableFile
{
    private readonly MemoryStream packed;

    private TableExport(string name, MemoryStream packed, long length, byte[] sha256) =>
        (this.packed, Name, Length, Sha256) = (packed, $"{name}.csv", length, sha256);

    /// <inheritdoc/>
    public string MediaType => Hosting.Answers.CsvMediaType;

    /// <inheritdoc/>
    public string Name { get; }

    /// <inheritdoc/>
    public string Tag => $"\"{Convert.ToHexStringLower(Sha256!.AsSpan(0, 16))}\"";

    /// <inheritdoc/>
    public long Length { get; }

    /// <inheritdoc/>
    public byte[]? Sha256 { get; }

    /// <summary>Takes a table in, part by part.</summary>
    public static async Task<TableExport> OfAsync(string name, IAsyncEnumerable<string> parts, CancellationToken cancel)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        var packed = new MemoryStream();
        var length = 0L;
        await using (var gzip = new GZipStream(packed, CompressionLevel.Fastest, leaveOpen: true))
        {
            // Without the mark, office programs take UTF-8 for an older alphabet.
            await AddAsync(gzip, Encoding.UTF8.Preamble.ToArray());
            await foreach (var part in parts.WithCancellation(cancel)) await AddAsync(gzip, Encoding.UTF8.GetBytes(part));
        }

        return new TableExport(name, packed, length, hash.GetHashAndReset());

        ValueTask AddAsync(GZipStream into, byte[] bytes)
        {
            hash.AppendData(bytes);
            length += bytes.Length;
            return into.WriteAsync(bytes, cancel);
        }
    }

    /// <inheritdoc/>
    public async Task<byte[]?> WriteAsync(Stream into, long from, long to, CancellationToken cancel)
    {
        await using var reader = new GZipStream(new MemoryStream(packed.GetBuffer(), 0, (int)packed.Length, writable: false), CompressionMode.Decompress);
        var buffer = new byte[64 * 1024];
        for (var at = 0L; at < to;)
        {
            var read = await reader.ReadAsync(buffer, cancel);
            if (read == 0) break;
            var (skip, end) = ((int)Math.Clamp(from - at, 0, read), (int)Math.Min(read, to - at));
            if (end > skip) await into.WriteAsync(buffer.AsMemory(skip, end - skip), cancel);
            at += read;
        }

        return null;
    }
}

using System.IO.Compression;
using System.Security.Cryptography;
using System.Text;
using FleetLight.Service.MadeFiles;

namespace FleetLight.Service.Exports;

/// <summary>What a table is made into: a compressed file, a tenth of its size, with what is known of the table before its first byte is sent.</summary>
internal static class PackedTable
{
    /// <summary>Makes it of parts, one after the other.</summary>
    public static async Task<MadeFile> WriteAsync(string path, IAsyncEnumerable<string> parts, CancellationToken cancel)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        var length = 0L;
        await using (var file = new FileStream(path, FileMode.CreateNew, FileAccess.Write, FileShare.None, 65_536, useAsync: true))
        await using (var gzip = new GZipStream(file, CompressionLevel.Fastest))
        {
            // Without the mark, office programs take UTF-8 for an older alphabet.
            await AddAsync(gzip, Encoding.UTF8.Preamble.ToArray());
            await foreach (var part in parts.WithCancellation(cancel)) await AddAsync(gzip, Encoding.UTF8.GetBytes(part));
        }

        var sha256 = hash.GetHashAndReset();
        return new MadeFile(path, $"\"{Convert.ToHexStringLower(sha256.AsSpan(0, 16))}\"", length, sha256);

        ValueTask AddAsync(GZipStream into, byte[] bytes)
        {
            hash.AppendData(bytes);
            length += bytes.Length;
            return into.WriteAsync(bytes, cancel);
        }
    }
}

/// <summary>A table that was made, opened to be sent.</summary>
/// <param name="name">The table's.</param>
/// <param name="opened">Its file, which this closes.</param>
public sealed class TableExport(string name, OpenedFile opened) : IStableFile, IDisposable
{
    /// <inheritdoc/>
    public string MediaType => Hosting.Answers.CsvMediaType;

    /// <inheritdoc/>
    public string Name => $"{name}.csv";

    /// <inheritdoc/>
    public string Tag => opened.Made.Tag;

    /// <inheritdoc/>
    public long Length => opened.Made.Length;

    /// <inheritdoc/>
    public byte[]? Sha256 => opened.Made.Sha256;

    /// <inheritdoc/>
    public async Task<byte[]?> WriteAsync(Stream into, long from, long to, CancellationToken cancel)
    {
        opened.Bytes.Position = 0;
        await using var reader = new GZipStream(opened.Bytes, CompressionMode.Decompress, leaveOpen: true);
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

    /// <inheritdoc/>
    public void Dispose() => opened.Bytes.Dispose();
}

using System.IO.Compression;
using System.Security.Cryptography;
using System.Text;

namespace FleetLight.Service.Exports;

/// <summary>What a table was made into: a compressed file, a tenth of its size, with what is known of it before its first byte is sent.</summary>
/// <param name="Path">Where it is.</param>
/// <param name="Name">Name of the table.</param>
/// <param name="Length">Bytes of the table.</param>
/// <param name="Sha256">SHA-256 of the table's bytes.</param>
public sealed record MadeTable(string Path, string Name, long Length, byte[] Sha256)
{
    /// <summary>Strong entity tag, in quotation marks.</summary>
    public string Tag => $"\"{Convert.ToHexStringLower(Sha256.AsSpan(0, 16))}\"";

    /// <summary>Makes it of parts, one after the other.</summary>
    public static async Task<MadeTable> OfAsync(string path, string name, IAsyncEnumerable<string> parts, CancellationToken cancel)
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

        return new MadeTable(path, name, length, hash.GetHashAndReset());

        ValueTask AddAsync(GZipStream into, byte[] bytes)
        {
            hash.AppendData(bytes);
            length += bytes.Length;
            return into.WriteAsync(bytes, cancel);
        }
    }
}

/// <summary>A table that was made, opened to be sent: it stays readable though its file is tidied away meanwhile.</summary>
public sealed class TableExport(MadeTable made) : IStableFile, IDisposable
{
    private readonly FileStream packed = new(made.Path, FileMode.Open, FileAccess.Read, FileShare.Read | FileShare.Delete, 65_536, useAsync: true);

    /// <inheritdoc/>
    public string MediaType => Hosting.Answers.CsvMediaType;

    /// <inheritdoc/>
    public string Name => $"{made.Name}.csv";

    /// <inheritdoc/>
    public string Tag => made.Tag;

    /// <inheritdoc/>
    public long Length => made.Length;

    /// <inheritdoc/>
    public byte[]? Sha256 => made.Sha256;

    /// <inheritdoc/>
    public async Task<byte[]?> WriteAsync(Stream into, long from, long to, CancellationToken cancel)
    {
        packed.Position = 0;
        await using var reader = new GZipStream(packed, CompressionMode.Decompress, leaveOpen: true);
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
    public void Dispose() => packed.Dispose();
}

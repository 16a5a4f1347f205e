using System.Buffers;
using System.IO.Compression;
using System.IO.Pipelines;
using System.Security.Cryptography;

namespace FleetLight.Verify;

/// <summary>Reads an export line by line, compressed or not, and makes the digest of its bytes.</summary>
internal static class ExportReader
{
    /// <summary>Hands each line to the caller, without its line break.</summary>
    /// <returns>Number and SHA-256 of the bytes as they are when not compressed, and whether the last line is whole.</returns>
    public static async Task<(long Bytes, byte[] Sha256, bool EndsWhole)> ReadAsync(string path, Action<ReadOnlySpan<byte>> line, CancellationToken cancel)
    {
        try
        {
            await using var file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read, 1 << 16, useAsync: true);
            var magic = new byte[2];
            var isPacked = await file.ReadAtLeastAsync(magic, 2, throwOnEndOfStream: false, cancel) == 2 && magic is [0x1f, 0x8b];
            file.Position = 0;
            await using Stream bytes = isPacked ? new GZipStream(file, CompressionMode.Decompress) : file;
            return await LinesAsync(bytes, line, cancel);
        }
        catch (Exception unread) when (unread is IOException or UnauthorizedAccessException or InvalidDataException)
        {
            throw new UnusableException($"{path} cannot be read: {unread.Message}");
        }
    }

    private static async Task<(long Bytes, byte[] Sha256, bool EndsWhole)> LinesAsync(Stream bytes, Action<ReadOnlySpan<byte>> line, CancellationToken cancel)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        var pipe = PipeReader.Create(bytes);
        var (length, endsWhole) = (0L, true);
        while (true)
        {
            var read = await pipe.ReadAsync(cancel);
            var buffer = read.Buffer;
            while (buffer.PositionOf((byte)'\n') is { } end)
            {
                Take(buffer.Slice(0, end), withBreak: true);
                buffer = buffer.Slice(buffer.GetPosition(1, end));
            }

            if (read.IsCompleted)
            {
                if (buffer.Length > 0)
                {
                    endsWhole = false;
                    Take(buffer, withBreak: false);
                }

                break;
            }

            pipe.AdvanceTo(buffer.Start, buffer.End);
        }

        await pipe.CompleteAsync();
        return (length, hash.GetHashAndReset(), endsWhole);

        void Take(ReadOnlySequence<byte> part, bool withBreak)
        {
            var whole = part.ToArray();
            hash.AppendData(whole);
            if (withBreak) hash.AppendData("\n"u8);
            length += whole.Length + (withBreak ? 1 : 0);
            line(whole);
        }
    }
}

using System.Security.Cryptography;
using System.Text.Json;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;

namespace FleetLight.Service.Exports;

/// <summary>
/// Answers with a manifest. The digest of the facts may have to be worked out first; so that nobody gives up on the answer meanwhile it
/// begins with a line break, and another follows for every few megabytes.
/// </summary>
public sealed class ManifestResult(FactExport export, Func<long, byte[], ExportManifest> manifest) : IResult
{
    /// <inheritdoc/>
    public async Task ExecuteAsync(HttpContext httpContext)
    {
        var response = httpContext.Response;
        response.ContentType = "application/json";
        var (bytes, sha256) = (export.Length, export.Sha256);
        if (sha256 is null)
        {
            await using var seen = new CountingStream(response.Body);
            await export.WriteAsync(seen, 0, export.Length, httpContext.RequestAborted);
            // Of what was altered too: the manifest says what is sent, and the root what was recorded.
            (bytes, sha256) = (seen.Length, seen.Digest());
        }

        await response.Body.WriteAsync(JsonSerializer.SerializeToUtf8Bytes(manifest(bytes, sha256), WireJson.Lenient), httpContext.RequestAborted);
    }

    // Counts what is written, and says now and then that it goes on.
    private sealed class CountingStream(Stream says) : Stream
    {
        private const long SayEvery = 4 * 1024 * 1024;
        private readonly IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        private long length;
        private long said = -SayEvery;

        public override bool CanRead => false;

        public override bool CanSeek => false;

        public override bool CanWrite => true;

        public override long Length => length;

        public override long Position { get => length; set => throw new NotSupportedException(); }

        public override async ValueTask WriteAsync(ReadOnlyMemory<byte> buffer, CancellationToken cancellationToken = default)
        {
            length += buffer.Length;
            hash.AppendData(buffer.Span);
            if (length - said < SayEvery) return;
            said = length;
            await says.WriteAsync("\n"u8.ToArray(), cancellationToken);
            await says.FlushAsync(cancellationToken);
        }

        public byte[] Digest() => hash.GetHashAndReset();

        protected override void Dispose(bool disposing)
        {
            if (disposing) hash.Dispose();
            base.Dispose(disposing);
        }

        public override void Flush()
        {
        }

        public override int Read(byte[] buffer, int offset, int count) => throw new NotSupportedException();

        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

        public override void SetLength(long value) => throw new NotSupportedException();

        public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();
    }
}

using System.Net;
using System.Net.Http.Headers;
using System.Security.Cryptography;
using FleetLight.Client.Sending;

namespace FleetLight.Client.Taking;

/// <summary>Fetches a file in as many pieces as the connection makes of it.</summary>
internal sealed class Download(Transport transport)
{
    // Times that it may stop in a row without a byte having come: what is still being made says each time when to ask again.
    private const int MostInVain = 100;

    private const string ReprDigest = "Repr-Digest";
    private const string Sha256 = "sha-256=:";

    public async Task<FetchedFile> FetchAsync(string path, string file, string? sha256, CancellationToken cancel)
    {
        ArgumentException.ThrowIfNullOrEmpty(file);
        var (part, tagged) = ($"{file}.part", $"{file}.part.tag");
        var expected = sha256;
        for (var inVain = 0; ; inVain++)
        {
            var before = Length(part);
            FleetLightException failed;
            try
            {
                if (await PieceAsync(path, part, tagged, stated => expected = sha256 ?? stated, cancel).ConfigureAwait(false)) break;
                failed = new ServiceUnreachableException(UnreachableReason.Cut, $"{transport.Options.Address} ended before the file was whole.");
            }
            catch (FleetLightException passing) when (passing.IsPassing && passing is not UnreadableAnswerException)
            {
                failed = passing;
            }

            if (Length(part) > before) inVain = 0;
            if (inVain >= (failed is ProblemException { Status: 503 } ? MostInVain : transport.Options.MostRetries)) throw failed;
            await Task.Delay(failed.RetryAfter ?? transport.Options.FirstPause, transport.Clock, cancel).ConfigureAwait(false);
        }

        return await CheckAsync(part, tagged, file, expected, cancel).ConfigureAwait(false);
    }

    // Whether the file is whole.
    private async Task<bool> PieceAsync(string path, string part, string tagged, Action<string?> state, CancellationToken cancel)
    {
        var tag = File.Exists(tagged) ? (await File.ReadAllTextAsync(tagged, cancel).ConfigureAwait(false)).Trim() : null;
        // The last byte is asked for again, so that a part that is whole already asks for nothing beyond its end.
        var from = tag is null ? 0 : Math.Max(0, Length(part) - 1);
        using var answer = await transport.OpenAsync(Call.Get(path), request =>
        {
            if (from == 0) return;
            request.Headers.Range = new RangeHeaderValue(from, null);
            request.Headers.TryAddWithoutValidation("If-Range", tag);
        }, cancel).ConfigureAwait(false);
        var goesOn = answer.StatusCode == HttpStatusCode.PartialContent;
        if (goesOn && answer.Content.Headers.ContentRange?.From != from)
            throw new UnreadableAnswerException($"{transport.Options.Address} answered another range than was asked for.");
        state(DigestOf(answer));
        var whole = goesOn ? answer.Content.Headers.ContentRange?.Length : answer.Content.Headers.ContentLength;
        if (!goesOn) await File.WriteAllTextAsync(tagged, answer.Headers.ETag?.ToString() ?? "", cancel).ConfigureAwait(false);
        var into = new FileStream(part, goesOn ? FileMode.Open : FileMode.Create, FileAccess.Write, FileShare.Read);
        await using var _ = into.ConfigureAwait(false);
        into.SetLength(goesOn ? from : 0);
        into.Position = into.Length;
        var ended = await CopyAsync(answer, into, cancel).ConfigureAwait(false);
        return ended && (whole is null || into.Length == whole);
    }

    // Whether it came to its end.
    private async Task<bool> CopyAsync(HttpResponseMessage answer, FileStream into, CancellationToken cancel)
    {
        var buffer = new byte[64 * 1024];
        using var silence = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        await using var timer = transport.Clock.CreateTimer(_ => silence.Cancel(), null, transport.Options.TryTimeout, Timeout.InfiniteTimeSpan);
        try
        {
            var stream = await answer.Content.ReadAsStreamAsync(silence.Token).ConfigureAwait(false);
            await using var _ = stream.ConfigureAwait(false);
            int read;
            while ((read = await stream.ReadAsync(buffer, silence.Token).ConfigureAwait(false)) > 0)
            {
                timer.Change(transport.Options.TryTimeout, Timeout.InfiniteTimeSpan);
                await into.WriteAsync(buffer.AsMemory(0, read), cancel).ConfigureAwait(false);
            }

            return true;
        }
        catch (Exception failed) when (failed is HttpIOException or HttpRequestException or OperationCanceledException && !cancel.IsCancellationRequested)
        {
            return false;
        }
    }

    private static async Task<FetchedFile> CheckAsync(string part, string tagged, string file, string? expected, CancellationToken cancel)
    {
        string found;
        long length;
        using (var read = File.OpenRead(part))
        {
            length = read.Length;
            found = Convert.ToHexStringLower(await SHA256.HashDataAsync(read, cancel).ConfigureAwait(false));
        }

        File.Delete(tagged);
        if (expected is not null && found != expected)
        {
            // Nothing can be said of which of its bytes are wrong: the next call begins anew.
            File.Delete(part);
            throw new UnreadableAnswerException($"What was fetched has the SHA-256 {found}, and should have {expected}.");
        }

        File.Move(part, file, overwrite: true);
        return new FetchedFile(file, length, found, expected is not null);
    }

    private static string? DigestOf(HttpResponseMessage answer)
    {
        if (!answer.Headers.TryGetValues(ReprDigest, out var values)
            || values.SelectMany(value => value.Split(',')).Select(each => each.Trim()).FirstOrDefault(each => each.StartsWith(Sha256, StringComparison.Ordinal)) is not { } digest)
            return null;
        var bytes = new byte[32];
        return Convert.TryFromBase64String(digest[Sha256.Length..].TrimEnd(':'), bytes, out var length) && length == bytes.Length ? Convert.ToHexStringLower(bytes) : null;
    }

    private static long Length(string file) => File.Exists(file) ? new FileInfo(file).Length : 0;
}

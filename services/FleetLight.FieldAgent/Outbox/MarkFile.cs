using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using FleetLight.FieldAgent.Faults;

namespace FleetLight.FieldAgent.Outbox;

/// <summary>
/// Remembers beside the outbox through which number facts were answered for. SQLite reads a write-ahead log up to the first
/// piece that is not whole and takes that for the end, as after a power cut: where it was damaged in its middle, facts behind that would
/// be gone without a word. The mark is raised after a fact is on the disk and before its writer is answered, so it is never ahead of
/// a sound outbox. Several processes may use it at once.
/// </summary>
internal sealed class MarkFile(string folder, IFaultPoints faults)
{
    /// <summary>Name of the file in the agent's folder.</summary>
    public const string Name = "outbox.mark";

    // Two places, each on a page of its own and written in turn: where the power goes in the middle of one, the other stands.
    private const int PlaceBytes = 4096;
    private const int Digits = 10;
    private const int DigestDigits = 16;
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(5);

    /// <summary>Where it is.</summary>
    public string Path { get; } = System.IO.Path.Combine(folder, Name);

    /// <summary>The number; none where there is no mark yet, as beside an outbox of an agent that kept none.</summary>
    /// <exception cref="OutboxDamagedException">Neither place can be read.</exception>
    public int? Read()
    {
        if (!File.Exists(Path)) return null;
        using var file = Open(FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        var (first, second) = (ReadPlace(file, 0), ReadPlace(file, 1));
        return first is null && second is null
            ? throw new OutboxDamagedException(Path, "it is to say through which number facts were recorded, and cannot be read.")
            : Math.Max(first ?? 0, second ?? 0);
    }

    /// <summary>Raises it to that number, where it is lower.</summary>
    public void Raise(int number)
    {
        try
        {
            if (!File.Exists(Path))
            {
                var whole = new byte[2 * PlaceBytes];
                Text(number).CopyTo(whole, 0);
                PrivateFiles.Replace(Path, whole, place => faults.Reach($"mark.{place}"));
                return;
            }

            using var file = Open(FileAccess.ReadWrite, FileShare.None);
            var (first, second) = (ReadPlace(file, 0), ReadPlace(file, 1));
            if (number <= Math.Max(first ?? 0, second ?? 0)) return;
            file.Position = (first ?? 0) <= (second ?? 0) ? 0 : PlaceBytes;
            file.Write(Text(number));
            faults.Reach("mark.raised");
            file.Flush(flushToDisk: true);
            faults.Reach("mark.raised-flushed");
        }
        catch (Exception blocked) when (blocked is IOException or UnauthorizedAccessException)
        {
            // The facts are on the disk. A mark that stays low finds less damage; an error would have them recorded twice.
        }
    }

    private static int? ReadPlace(FileStream file, int place)
    {
        var text = new byte[Digits + 1 + DigestDigits];
        file.Position = place * PlaceBytes;
        return file.ReadAtLeast(text, text.Length, throwOnEndOfStream: false) == text.Length
            && int.TryParse(text.AsSpan(0, Digits), NumberStyles.None, CultureInfo.InvariantCulture, out var number)
            && text.AsSpan().SequenceEqual(Text(number))
            ? number
            : null;
    }

    private static byte[] Text(int number)
    {
        var digits = number.ToString("D10", CultureInfo.InvariantCulture);
        return Encoding.ASCII.GetBytes($"{digits} {Convert.ToHexStringLower(SHA256.HashData(Encoding.ASCII.GetBytes(digits)))[..DigestDigits]}");
    }

    // Another process may be at it.
    private FileStream Open(FileAccess access, FileShare share)
    {
        var began = Environment.TickCount64;
        while (true)
        {
            try
            {
                return new FileStream(Path, FileMode.Open, access, share);
            }
            catch (IOException) when (Environment.TickCount64 - began < Patience.TotalMilliseconds)
            {
                Thread.Sleep(5);
            }
        }
    }
}

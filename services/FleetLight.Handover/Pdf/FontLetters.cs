using System.Buffers.Binary;

namespace FleetLight.Handover.Pdf;

/// <summary>Which letters a font file draws, by its table <c>cmap</c> (ISO/IEC 14496-22, formats 4 and 12).</summary>
internal sealed class FontLetters
{
    private readonly byte[] file;
    private readonly List<(int Format, int At)> tables = [];

    /// <summary>Reads the table of contents of a font.</summary>
    /// <param name="file">The bytes of a TrueType font.</param>
    public FontLetters(byte[] file)
    {
        this.file = file;
        for (var at = 12; at < 12 + (16 * Short(4)); at += 16)
        {
            if (!file.AsSpan(at, 4).SequenceEqual("cmap"u8)) continue;
            var cmap = Long(at + 8);
            for (var each = 0; each < Short(cmap + 2); each++)
            {
                var (platform, start) = (Short(cmap + 4 + (8 * each)), cmap + Long(cmap + 8 + (8 * each)));
                // 3 is the platform whose codes are those of Unicode.
                if (platform == 3 && Short(start) is 4 or 12) tables.Add((Short(start), start));
            }
        }
    }

    /// <summary>Whether it draws a letter.</summary>
    public bool Has(int codePoint) => tables.Exists(table => table.Format == 4 ? IsInSegments(table.At, codePoint) : IsInGroups(table.At, codePoint));

    private bool IsInSegments(int at, int codePoint)
    {
        if (codePoint > 0xffff) return false;
        var size = Short(at + 6);
        var (ends, starts) = (at + 14, at + 16 + size);
        for (var segment = 0; segment < size; segment += 2)
        {
            if (Short(ends + segment) < codePoint) continue;
            if (Short(starts + segment) > codePoint) return false;
            var (delta, places) = (starts + size + segment, starts + (2 * size) + segment);
            if (Short(places) == 0) return ((codePoint + Short(delta)) & 0xffff) != 0;
            return Short(places + Short(places) + (2 * (codePoint - Short(starts + segment)))) != 0;
        }

        return false;
    }

    private bool IsInGroups(int at, int codePoint)
    {
        for (var group = at + 16; group < at + 16 + (12 * Long(at + 12)); group += 12)
            if (codePoint >= Long(group) && codePoint <= Long(group + 4)) return Long(group + 8) + codePoint - Long(group) != 0;
        return false;
    }

    private int Short(int at) => BinaryPrimitives.ReadUInt16BigEndian(file.AsSpan(at));

    private int Long(int at) => BinaryPrimitives.ReadInt32BigEndian(file.AsSpan(at));
}

using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.RegularExpressions;

namespace FleetLight.Handover.Pdf;

/// <summary>
/// Puts what the library draws by chance (names of the parts of fonts, ids of the document) or reads off the clock (when it was saved)
/// to what follows from the rest of the file, so that the same document is the same bytes. Each is as long as before, so every place in the file stays where the file says it is.
/// </summary>
internal static partial class SameBytes
{
    public static byte[] Of(byte[] file, DateTimeOffset at)
    {
        var text = Encoding.Latin1.GetString(file);
        var tags = new Dictionary<string, string>(StringComparer.Ordinal);
        text = FontTag().Replace(text, found =>
        {
            var drawn = found.Groups[1].Value;
            if (!tags.TryGetValue(drawn, out var tag)) tags[drawn] = tag = "FONT" + (char)('A' + (tags.Count / 26 % 26)) + (char)('A' + (tags.Count % 26));
            return $"/{tag}+";
        });
        text = Day().Replace(text, at.UtcDateTime.ToString("yyyyMMddHHmmss", CultureInfo.InvariantCulture));
        text = XmpDay().Replace(text, at.UtcDateTime.ToString("yyyy-MM-ddTHH:mm:ss", CultureInfo.InvariantCulture));
        text = Id().Replace(text, found => new string('0', found.Length));
        var id = Convert.ToHexStringLower(SHA256.HashData(Encoding.Latin1.GetBytes(text)));
        text = Zeros().Replace(text, found => found.Value.Length == 36 ? $"{id[..8]}-{id[8..12]}-{id[12..16]}-{id[16..20]}-{id[20..32]}" : id[..32].ToUpperInvariant());
        return Encoding.Latin1.GetBytes(text);
    }

    [GeneratedRegex(@"(?<=/(?:CreationDate|ModDate)\(D:)\d{14}")]
    private static partial Regex Day();

    [GeneratedRegex(@"(?<=<xmp:(?:Create|Modify|Metadata)Date>)\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d")]
    private static partial Regex XmpDay();

    [GeneratedRegex(@"/([A-Z]{6})\+(?=(?:Liberation|DejaVu|Droid)#20Sans)")]
    private static partial Regex FontTag();

    [GeneratedRegex(@"(?<=<xmpMM:(?:Document|Instance)ID>uuid:)[0-9a-fA-F-]{36}(?=</)|(?<=/ID\[(?:<[0-9A-F]{32}>)?<)[0-9A-F]{32}(?=>)")]
    private static partial Regex Id();

    [GeneratedRegex(@"(?<=<xmpMM:(?:Document|Instance)ID>uuid:)0{36}(?=</)|(?<=/ID\[(?:<[0-9A-F]{32}>)?<)0{32}(?=>)")]
    private static partial Regex Zeros();
}

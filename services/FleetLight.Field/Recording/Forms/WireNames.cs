using System.Globalization;
using System.Text.RegularExpressions;
using FleetLight.Record.Checks;

namespace FleetLight.Field.Recording.Forms;

/// <summary>The names of members on the wire, said as the form words them. Pure.</summary>
internal static partial class WireNames
{
    /// <summary>Whether a path is that of a member or of a part of it.</summary>
    public static bool IsIn(string path, string name) =>
        path.StartsWith(name, StringComparison.Ordinal) && (path.Length == name.Length || path[name.Length] is '.' or '[');

    /// <summary>The field that asks for the member at a path; none where none does.</summary>
    public static FormField? FieldAt(IReadOnlyList<FormField> fields, string path) => fields.FirstOrDefault(field => IsIn(Within(path), field.Name));

    /// <summary>What a person calls the member at a path: <c>Tapes from reference points, 2nd: Distance to it, m</c>.</summary>
    public static string LabelOf(IReadOnlyList<FormField> fields, string path)
    {
        var within = Within(path);
        if (FieldAt(fields, path) is not { } field) return within;
        var rest = Step().Match(within[field.Name.Length..]);
        var which = rest.Groups["at"] is { Success: true } at ? $", {Ordinal(int.Parse(at.ValueSpan, CultureInfo.InvariantCulture) + 1)}" : "";
        var part = rest.Groups["part"] is { Success: true } named ? field.Parts.FirstOrDefault(part => part.Name == named.Value)?.LabelWithUnit : null;
        return part is null && which.Length == 0 ? field.LabelWithUnit : $"{field.Label}{which}{(part is null ? "" : $": {part}")}";
    }

    /// <summary>A text of the checks with the labels of the members that it names.</summary>
    public static string InWords(IReadOnlyList<FormField> fields, string text)
    {
        var labels = fields.Concat(fields.SelectMany(field => field.Parts)).DistinctBy(field => field.Name).ToDictionary(field => field.Name, field => $"\"{field.Label}\"");
        // A name of one plain word is a word of the sentence, unless the sentence begins with it as its subject.
        return Name().Replace(text, found =>
            labels.TryGetValue(found.Value, out var label) && (found.Value.Any(char.IsAsciiLetterUpper) || IsSubject(text, found)) ? label : found.Value);
    }

    private static bool IsSubject(string text, Match found) => found.Index == 0 && text.AsSpan(found.Length).StartsWith(" is ", StringComparison.Ordinal);

    /// <summary>The path within the fact's data.</summary>
    public static string Within(string path) => path.StartsWith($"{FactCheck.Root}.", StringComparison.Ordinal) ? path[(FactCheck.Root.Length + 1)..] : path;

    private static string Ordinal(int number) => number switch { 1 => "1st", 2 => "2nd", 3 => "3rd", _ => $"{number}th" };

    [GeneratedRegex(@"^(\[(?<at>\d{1,6})\])?(\.(?<part>[A-Za-z]+))?", RegexOptions.ExplicitCapture)]
    private static partial Regex Step();

    [GeneratedRegex(@"\b[a-z][A-Za-z]*\b")]
    private static partial Regex Name();
}

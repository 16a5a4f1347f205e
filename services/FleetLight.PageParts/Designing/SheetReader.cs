using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Checks;

namespace FleetLight.PageParts.Designing;

/// <summary>A mistake on a sheet.</summary>
/// <param name="Path">The field, for instance <c>fittings[2].ratedWatts</c>, <c>driver.mostVolts</c> or <c>name</c>.</param>
/// <param name="Detail">What is wrong, in plain words.</param>
/// <param name="Remedy">What to do about it.</param>
public sealed record SheetProblem(string Path, string Detail, string Remedy);

/// <summary>What a sheet says.</summary>
/// <param name="Design">The design; where a field is wrong, something sound stands in its place.</param>
/// <param name="Problems">The mistakes; with one, the design is not to be saved.</param>
public sealed record SheetRead(CircuitDesigned? Design, IReadOnlyList<SheetProblem> Problems)
{
    /// <summary>Whether it may be saved.</summary>
    public bool IsSound => Design is not null && Problems.Count == 0;

    /// <summary>The mistake of a field, where it has one.</summary>
    public SheetProblem? At(string path) => Problems.FirstOrDefault(problem => problem.Path == path);
}

/// <summary>Reads a sheet as the design that it says, by the rules by which the service takes facts.</summary>
public static class SheetReader
{
    private const string Unnamed = "to-be-named";

    /// <summary>What the sheet says.</summary>
    public static SheetRead Read(DesignSheet sheet)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        var problems = new List<SheetProblem>();
        var data = Fields("", sheet.Head, SheetFields.Head, problems);
        data["driver"] = Fields("driver.", sheet.Driver, [.. SheetFields.Driver.Select(field => OfDrive(field, sheet))], problems);
        data["fittings"] = Rows("fittings", sheet.Fittings, SheetFields.Fitting, problems);
        data["runs"] = Rows("runs", sheet.Runs, SheetFields.Run, problems);
        CircuitDesigned design;
        try
        {
            design = data.Deserialize<CircuitDesigned>(WireJson.Strict)!;
        }
        catch (JsonException bad)
        {
            var fault = JsonFault.Of(bad, "");
            if (!problems.Exists(problem => problem.Path == fault.Field)) problems.Add(new SheetProblem(fault.Field, fault.Detail, fault.Remedy));
            return new SheetRead(null, problems);
        }

        // What was said of a field is not said again of what was put in its place.
        var said = problems.Select(problem => problem.Path).ToHashSet(StringComparer.Ordinal);
        foreach (var wrong in FactCheck.Check(design))
        {
            var path = wrong.Field.Length > FactCheck.Root.Length ? wrong.Field[(FactCheck.Root.Length + 1)..] : "";
            if (said.Add(path)) problems.Add(new SheetProblem(path, Worded(wrong.Detail, path), Worded(wrong.Remedy, path)));
        }

        return new SheetRead(design, problems);
    }

    private static JsonArray Rows(string list, ImmutableList<SheetRow> rows, IReadOnlyList<SheetField> fields, List<SheetProblem> problems)
    {
        var array = new JsonArray();
        for (var i = 0; i < rows.Count; i++) array.Add(Fields($"{list}[{i.ToString(CultureInfo.InvariantCulture)}].", rows[i], fields, problems));
        return array;
    }

    private static JsonObject Fields(string root, SheetRow row, IReadOnlyList<SheetField> fields, List<SheetProblem> problems)
    {
        var data = new JsonObject();
        foreach (var field in fields)
        {
            var text = row[field.Member];
            // A tail is whole or not at all.
            var needed = field.IsNeeded
                || (field.Member.StartsWith("tail.", StringComparison.Ordinal) && row.Cells.Keys.Any(member => member.StartsWith("tail.", StringComparison.Ordinal)));
            if (text.Length == 0 && !needed) continue;
            var (value, wrong) = Value(field, text);
            if (wrong is not null) problems.Add(wrong with { Path = root + field.Member });
            Put(data, field.Member, value);
        }

        return data;
    }

    private static (JsonNode? Value, SheetProblem? Wrong) Value(SheetField field, string text)
    {
        if (text.Length == 0) return (Stand(field), new SheetProblem("", $"{field.Label} is missing.", "Fill it in."));
        switch (field.Kind)
        {
            case FieldKind.Number:
                if (Number(text) is { } number)
                    return (field.Member == "conductorsInLoop" && number == Math.Truncate(number) ? JsonValue.Create((int)number) : JsonValue.Create(number), null);
                return (Stand(field), new SheetProblem("", $"'{text}' is no number.", $"Give the number alone{(field.Unit is null ? "" : $", in {field.Unit}")}."));
            case FieldKind.Choice:
                if (field.Choices.FirstOrDefault(choice => Plain(choice.Value) == Plain(text)) is { } choice) return (choice.Value, null);
                return (Stand(field),
                    new SheetProblem("", $"'{text}' is none of the words taken here.", $"Use one of: {string.Join(", ", field.Choices.Select(one => one.Value))}."));
            case FieldKind.YesOrNo:
                if (text is "yes" or "true") return (true, null);
                if (text is "no" or "false") return (false, null);
                return (Stand(field), new SheetProblem("", $"'{text}' is neither yes nor no.", "Use yes or no."));
            default:
                return (text, null);
        }
    }

    /// <summary>A number as people write it: with a decimal point or a decimal comma, without separators of thousands.</summary>
    public static double? Number(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var plain = text.Contains('.', StringComparison.Ordinal) || text.IndexOf(',', StringComparison.Ordinal) != text.LastIndexOf(',') ? text : text.Replace(',', '.');
        return double.TryParse(plain, NumberStyles.Float & ~NumberStyles.AllowThousands, CultureInfo.InvariantCulture, out var number) && double.IsFinite(number)
            ? number
            : null;
    }

    /// <summary>What stands in a cell of a file as the sheet writes it: a known word as the contract has it, all else as it is.</summary>
    internal static string Tidied(SheetField field, string text) => field.Kind switch
    {
        FieldKind.Choice => field.Choices.FirstOrDefault(choice => Plain(choice.Value) == Plain(text))?.Value ?? text,
        FieldKind.YesOrNo when Plain(text) is "YES" or "TRUE" => "yes",
        FieldKind.YesOrNo when Plain(text) is "NO" or "FALSE" => "no",
        _ => text,
    };

    private static JsonValue Stand(SheetField field) => field.Kind switch
    {
        FieldKind.Number => JsonValue.Create(1),
        FieldKind.Choice => JsonValue.Create(field.Choices[0].Value),
        FieldKind.YesOrNo => JsonValue.Create(false),
        _ => JsonValue.Create(Unnamed),
    };

    private static void Put(JsonObject data, string member, JsonNode? value)
    {
        var dot = member.IndexOf('.', StringComparison.Ordinal);
        if (dot < 0)
        {
            data[member] = value;
            return;
        }

        if (data[member[..dot]] is not JsonObject inner) data[member[..dot]] = inner = [];
        inner[member[(dot + 1)..]] = value;
    }

    private static SheetField OfDrive(SheetField field, DesignSheet sheet) => field with { IsNeeded = field.IsNeeded && field.OnlyFor == sheet.Drive };

    // The contract names members; people know the field by its label.
    private static string Worded(string text, string path)
    {
        var member = path[(path.LastIndexOf(']') + 1)..].TrimStart('.');
        var fields = path.StartsWith("fittings", StringComparison.Ordinal) ? SheetFields.Fitting
            : path.StartsWith("runs", StringComparison.Ordinal) ? SheetFields.Run
            : path.StartsWith("driver.", StringComparison.Ordinal) ? SheetFields.Driver
            : SheetFields.Head;
        if (path.StartsWith("driver.", StringComparison.Ordinal)) member = path["driver.".Length..];
        if (fields.FirstOrDefault(field => field.Member == member) is not { } known) return text;
        var last = member[(member.LastIndexOf('.') + 1)..];
        return text.StartsWith(last + " ", StringComparison.Ordinal) ? known.Label + text[last.Length..] : text;
    }

    private static string Plain(string word) => string.Concat(word.Where(char.IsLetterOrDigit)).ToUpperInvariant();
}

using System.Globalization;
using System.Reflection;
using System.Text;
using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Tests.Schemas;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Designs;
using FleetLight.Service.Access;
using FleetLight.Service.Calculations;
using FleetLight.Service.Hosting;

namespace FleetLight.Contracts.Tests.Readme;

/// <summary>The tables of contracts/README.md say what the code says.</summary>
public class ReadmeTests
{
    private const string File = "contracts/README.md";

    private static readonly DocComments Comments = DocComments.Of(typeof(IFact).Assembly);

    private static readonly Dictionary<string, string> Units = new(StringComparer.Ordinal)
    {
        ["%"] = "percent",
        ["1"] = "none: a plain number",
        ["1/K"] = "for each kelvin, 1/K",
        ["A"] = "ampere",
        ["B"] = "byte",
        ["K"] = "kelvin",
        ["Mohm"] = "megohm, MΩ",
        ["N"] = "newton",
        ["N/m"] = "newton per metre",
        ["V"] = "volt",
        ["bit"] = "bit, of information",
        ["d"] = "day",
        ["V, mA or ohm"] = "that of the quantity read: volt, milliampere or ohm",
        ["V, mA, ohm or Mohm"] = "that of the quantity read: volt, milliampere, ohm or megohm",
        ["W"] = "watt",
        ["deg"] = "degree, °",
        ["degC"] = "degree Celsius, °C",
        ["bit/h"] = "bit an hour",
        ["min"] = "minute",
        ["kg/m"] = "kilogram per metre",
        ["m"] = "metre",
        ["mA"] = "milliampere",
        ["mm"] = "millimetre",
        ["mm2"] = "square millimetre, mm²",
        ["ms"] = "millisecond",
        ["ohm"] = "ohm, Ω",
    };

    [Fact]
    public void The_tables_say_what_the_code_says()
    {
        var text = System.IO.File.ReadAllText(Repository.At(File));
        foreach (var (name, table) in new[]
                 {
                     ("limits", Limits()), ("facts", Facts()), ("units", UnitsUsed()), ("problems", Problems()),
                     ("calculations", Calculations()), ("roles", RolesTable()), ("design columns", DesignColumnsTable()),
                 })
            text = With(text, name, table);
        Approved.Check(File, text);
    }

    [Fact]
    public void What_it_points_at_is_there()
    {
        foreach (var place in new[] { "schemas", "examples", "openapi/v1.json", "golden", "FleetLight.Contracts" })
        {
            Assert.Contains($"`{place}", System.IO.File.ReadAllText(Repository.At(File)), StringComparison.Ordinal);
            Assert.True(Path.Exists(Repository.At($"contracts/{place}")), place);
        }
    }

    private static string With(string text, string name, string table)
    {
        const string end = "<!-- end -->";
        var start = $"<!-- {name}: written by a test -->";
        var from = text.IndexOf(start, StringComparison.Ordinal);
        Assert.True(from >= 0, $"{File} has no place for the table '{name}'.");
        var to = text.IndexOf(end, from, StringComparison.Ordinal);
        return $"{text[..(from + start.Length)]}\n{table}{text[to..]}";
    }

    private static string Limits() => Table("What", "Most",
    [
        ("Events in one request", Count(Envelope.MostEvents)),
        ("Bytes in one request", Count(Envelope.MostBytes)),
        ("Bytes of one event", Count(Envelope.MostDataBytes)),
        ("Bytes in one request for a calculation", Count(CalculationLimits.MostBytes)),
        ("Bytes of one picture that a fact may state", Count(PictureLimits.MostBytes)),
        ("Running number", Count(int.MaxValue)),
        ("Members of a page", $"{Count(Paging.Most)}; {Count(Paging.Usual)} where none is asked for"),
    ]);

    private static string Facts() => Table("Type", "Says",
        FactTypes.All.Select(pair => ($"[`{pair.Key}`](schemas/{pair.Key}.schema.json) ([example](examples/{pair.Key}.json))", Comments.Of(pair.Value)!)));

    private static string UnitsUsed() => Table("`x-unit`", "Unit", typeof(IFact).Assembly.GetTypes().SelectMany(type => type.GetProperties())
        .Select(property => property.GetCustomAttribute<QuantityAttribute>()?.Unit).OfType<string>()
        .Distinct().Order(StringComparer.Ordinal).Select(unit => ($"`{unit}`", Units[unit])));

    private static string Calculations()
    {
        var table = new StringBuilder("| Path | Answers | Units | Takes at most |\n|---|---|---|---|\n");
        foreach (var each in CalculationEndpoints.All)
        {
            table.Append(CultureInfo.InvariantCulture, $"| `POST {CalculationEndpoints.Path}/{each.Name}` | {each.Summary} | {each.Units} | {each.Limits} |\n");
        }

        return table.ToString();
    }

    private static string DesignColumnsTable()
    {
        var table = new StringBuilder("| Column | on a row of a circuit | fitting | run |\n|---|---|---|---|\n");
        foreach (var column in DesignTable.Columns)
            table.Append(CultureInfo.InvariantCulture, $"| {column.Header} | {column.Circuit} | {column.Fitting} | {column.Run} |\n");
        return table.ToString();
    }

    private static string RolesTable()
    {
        var roles = Enum.GetValues<Role>();
        var comments = DocComments.Of(typeof(Scope).Assembly);
        var table = new StringBuilder($"| Scope | Allows | {string.Join(" | ", roles.Select(Query.Word))} |\n|---|---|{string.Concat(roles.Select(_ => "---|"))}\n");
        foreach (var scope in Enum.GetValues<Scope>())
        {
            var who = roles.Select(role => Roles.Allow(Roles.ScopesOf(role), scope) ? "yes" : "");
            table.Append(CultureInfo.InvariantCulture, $"| `{Query.Word(scope)}` | {comments.Of(typeof(Scope).GetField(scope.ToString())!)} | {string.Join(" | ", who)} |\n");
        }

        return table.ToString();
    }

    private static string Problems() => Table("`type`", "Means", typeof(ProblemTypes).GetFields(BindingFlags.Public | BindingFlags.Static)
        .Select(field => ($"`{field.GetRawConstantValue()}`", Comments.Of(field)!)));

    private static string Table(string left, string right, IEnumerable<(string Left, string Right)> rows)
    {
        var table = new StringBuilder($"| {left} | {right} |\n|---|---|\n");
        foreach (var row in rows) table.Append(CultureInfo.InvariantCulture, $"| {row.Left} | {row.Right} |\n");
        return table.ToString();
    }

    private static string Count(int number) => number.ToString("N0", CultureInfo.InvariantCulture);
}

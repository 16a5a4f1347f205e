using System.Reflection;
using System.Text;
using System.Text.RegularExpressions;
using System.Xml.Linq;

namespace FleetLight.Contracts.Tests.Schemas;

/// <summary>The summaries that stand in the doc comments of an assembly.</summary>
internal sealed partial class DocComments
{
    private readonly Dictionary<string, XElement> members;

    private DocComments(XDocument document) => members = document.Descendants("member")
        .Where(member => member.Attribute("name") is not null)
        .ToDictionary(member => member.Attribute("name")!.Value, StringComparer.Ordinal);

    /// <summary>The comments that the compiler put beside the assembly.</summary>
    public static DocComments Of(Assembly assembly) =>
        new(XDocument.Load(Path.Combine(AppContext.BaseDirectory, assembly.GetName().Name + ".xml")));

    /// <summary>Summary of a type.</summary>
    public string? Of(Type type) => Summary("T:" + Name(type));

    /// <summary>Summary of a property, or that of the interface's where it is inherited.</summary>
    public string? Of(PropertyInfo property)
    {
        var own = Summary($"P:{Name(property.DeclaringType!)}.{property.Name}");
        return own ?? property.DeclaringType!.GetInterfaces()
            .Select(type => Summary($"P:{Name(type)}.{property.Name}"))
            .FirstOrDefault(summary => summary is not null);
    }

    /// <summary>Summary of a word of an enumeration.</summary>
    public string? Of(FieldInfo word) => Summary($"F:{Name(word.DeclaringType!)}.{word.Name}");

    private string? Summary(string member) =>
        members.GetValueOrDefault(member)?.Element("summary") is { } summary ? Plain(summary) : null;

    private static string Plain(XElement summary)
    {
        var text = new StringBuilder();
        foreach (var node in summary.Nodes())
        {
            text.Append(node switch
            {
                XText plain => plain.Value,
                XElement { Name.LocalName: "c" } code => $"`{code.Value}`",
                XElement other => other.Attribute("cref")?.Value.Split('.')[^1] ?? other.Value,
                _ => "",
            });
        }

        return Spaces().Replace(text.ToString(), " ").Trim();
    }

    private static string Name(Type type) => type.FullName!.Replace('+', '.');

    [GeneratedRegex(@"\s+")]
    private static partial Regex Spaces();
}

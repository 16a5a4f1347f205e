using System.Reflection;
using System.Text.Json;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Facts;
using FleetLight.Field.Sites;
using FleetLight.PageParts.Wording;

namespace FleetLight.Field.Recording.Forms;

/// <summary>Makes fields from the members of a type of fact: ranges, units, lengths and words stand in the contract, once. Pure.</summary>
/// <typeparam name="T">The type of fact, or of what stands within one.</typeparam>
internal static class Ask<T>
{
    /// <summary>A number, with the unit and range that the contract states.</summary>
    public static NumberField Number(string member, string label)
    {
        var stated = Of(member).GetCustomAttribute<QuantityAttribute>()!;
        return new NumberField(Name(member), label, FormWords.Unit(stated.Unit), stated.Least, stated.Most) { MayBeEmpty = MayBeEmpty(member) };
    }

    /// <summary>A text, with the length that the contract states.</summary>
    public static TextField Text(string member, string label) =>
        new(Name(member), label, Of(member).GetCustomAttribute<TextAttribute>()!.Most) { MayBeEmpty = MayBeEmpty(member) };

    /// <summary>One of the words of the member.</summary>
    public static ChoiceField Words(string member, string label)
    {
        var type = Of(member).PropertyType;
        var words = Enum.GetValues(Nullable.GetUnderlyingType(type) ?? type).Cast<Enum>();
        return new ChoiceField(Name(member), label, [.. words.Select(word => new Choice(Word(word), PlainWords.InSentence(word)))]) { MayBeEmpty = MayBeEmpty(member) };
    }

    /// <summary>Yes or no.</summary>
    public static YesNoField YesNo(string member, string label) => new(Name(member), label) { MayBeEmpty = MayBeEmpty(member) };

    /// <summary>One of what the site offers.</summary>
    public static PickField Pick(string member, string label, Func<FormContext, JsonObject, IReadOnlyList<Choice>> choices) =>
        new(Name(member), label, choices) { MayBeEmpty = MayBeEmpty(member) };

    /// <summary>Several of what the site offers.</summary>
    public static PickManyField PickMany(string member, string label, Func<FormContext, JsonObject, IReadOnlyList<Choice>> choices) =>
        new(Name(member), label, choices) { MayBeEmpty = true };

    /// <summary>Where it is.</summary>
    public static PositionField Position(string member = "Position") => new(Name(member), "Where it is") { MayBeEmpty = true };

    /// <summary>A word of the contract as on the wire.</summary>
    public static string Word(Enum word) => JsonNamingPolicy.KebabCaseLower.ConvertName(word.ToString());

    private static string Name(string member) => JsonNamingPolicy.CamelCase.ConvertName(member);

    private static PropertyInfo Of(string member) => typeof(T).GetProperty(member)!;

    private static bool MayBeEmpty(string member) => Of(member).GetCustomAttribute<System.Runtime.CompilerServices.RequiredMemberAttribute>() is null;
}

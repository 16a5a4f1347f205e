using System.Text.Json.Nodes;
using FleetLight.Contracts;

namespace FleetLight.Field.Recording.Forms;

/// <summary>A field of a form. Its name is the member of the fact that it fills.</summary>
/// <param name="Name">The member, as on the wire.</param>
/// <param name="Label">What it asks for.</param>
public abstract record FormField(string Name, string Label)
{
    /// <summary>A help that stands below it.</summary>
    public string? Hint { get; init; }

    /// <summary>Whether it may stay empty.</summary>
    public bool MayBeEmpty { get; init; }

    /// <summary>Whether it stands under "More", because it is seldom told.</summary>
    public bool Seldom { get; init; }

    /// <summary>Whether it is asked for, given what is filled in; always where absent.</summary>
    public Func<FormContext, JsonObject, bool>? Shown { get; init; }

    /// <summary>Whether the thing that the form was opened about answers it, so that it is folded away; never where absent.</summary>
    public Func<FormContext, bool>? IsGiven { get; init; }

    /// <summary>What stands within the member, each named as on the wire there; nothing where it is one figure or word.</summary>
    public IReadOnlyList<FormField> Parts { get; init; } = [];

    /// <summary>What it asks for, with its unit: <c>Length, m</c>.</summary>
    public string LabelWithUnit => this is NumberField { Unit.Length: > 0 } number ? $"{Label}, {number.Unit}" : Label;
}

/// <summary>A number with its unit.</summary>
public sealed record NumberField(string Name, string Label, string Unit, double Least, double Most) : FormField(Name, Label)
{
    /// <summary>The unit where it depends on what is filled in.</summary>
    public Func<JsonObject, string>? UnitOf { get; init; }
}

/// <summary>A text.</summary>
public sealed record TextField(string Name, string Label, int Most) : FormField(Name, Label)
{
    /// <summary>Whether it has several lines.</summary>
    public bool Lines { get; init; }
}

/// <summary>One of a few words.</summary>
public sealed record ChoiceField(string Name, string Label, IReadOnlyList<Choice> Choices) : FormField(Name, Label);

/// <summary>A word, and what it says.</summary>
public sealed record Choice(string Word, string Says);

/// <summary>Yes or no.</summary>
public sealed record YesNoField(string Name, string Label) : FormField(Name, Label);

/// <summary>One of the choices that the site offers at this moment.</summary>
public sealed record PickField(string Name, string Label, Func<FormContext, JsonObject, IReadOnlyList<Choice>> Choices) : FormField(Name, Label)
{
    /// <summary>What is said where there is nothing to pick.</summary>
    public string NoneSays { get; init; } = "There is none on this site yet.";

    /// <summary>What to fill in besides, once something was picked.</summary>
    public Action<FormContext, JsonObject>? Picked { get; init; }
}

/// <summary>Several of the choices that the site offers.</summary>
public sealed record PickManyField(string Name, string Label, Func<FormContext, JsonObject, IReadOnlyList<Choice>> Choices) : FormField(Name, Label)
{
    /// <summary>What is said where there is nothing to pick.</summary>
    public string NoneSays { get; init; } = "There is none on this site yet.";
}

/// <summary>The cores of a cable, and what each is used for.</summary>
public sealed record CoresField(string Name, string Label) : FormField(Name, Label);

/// <summary>The connectors of a joint.</summary>
public sealed record ConnectorsField(string Name, string Label) : FormField(Name, Label);

/// <summary>Figures and words that are one member together. Where none is filled in, there is no such member.</summary>
public sealed record PartsField(string Name, string Label) : FormField(Name, Label);

/// <summary>Distances taped from reference points.</summary>
public sealed record TapesField(string Name, string Label) : FormField(Name, Label);

/// <summary>Where it is, from the phone.</summary>
public sealed record PositionField(string Name, string Label) : FormField(Name, Label);

/// <summary>What to mind where work can hurt.</summary>
public sealed record Caution(string Title, string Says)
{
    /// <summary>Before ground is opened.</summary>
    public static Caution Digging { get; } = new("Buried services",
        "Locate them before the ground is opened. A colour never tells what a duct holds, nor does this record tell that nothing is there.");

    /// <summary>At the mains side.</summary>
    public static Caution Mains { get; } = new("Mains side", "For licensed persons, by your local code. Isolate, lock off and prove dead before you touch.");

    /// <summary>While it is energised.</summary>
    public static Caution Energised { get; } = new("Energised", "For those who are competent to make it. Close boxes and covers first; nobody at open parts.");
}

/// <summary>A kind of thing with what makes an id of it.</summary>
internal static class IdLetters
{
    public static string Of(ThingKind kind) => kind switch
    {
        ThingKind.Duct => "d",
        ThingKind.Cable => "c",
        ThingKind.Box => "b",
        ThingKind.Circuit => "k",
        _ => "s",
    };
}

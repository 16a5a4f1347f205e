using System.Text.Json;
using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Checks;

namespace FleetLight.Field.Recording.Forms;

/// <summary>Where on the first page a form stands.</summary>
public enum FormGroup
{
    /// <summary>What crews do all day.</summary>
    Usual,

    /// <summary>Ducts, cables and boxes.</summary>
    InTheGround,

    /// <summary>Circuits and tests.</summary>
    Circuits,

    /// <summary>Faults and repairs.</summary>
    Faults,

    /// <summary>What was recorded wrongly.</summary>
    PutRight,
}

/// <summary>The form of one type of fact: what it asks, what it begins with, and what it makes.</summary>
public abstract class FactForm
{
    /// <summary>Its part of the address.</summary>
    public abstract string Key { get; }

    /// <summary>The type of fact that it makes.</summary>
    public abstract Type Type { get; }

    /// <summary>What was done, in two or three words.</summary>
    public abstract string Title { get; }

    /// <summary>Where on the first page it stands.</summary>
    public abstract FormGroup Group { get; }

    /// <summary>Its fields, in their order.</summary>
    public abstract IReadOnlyList<FormField> Fields { get; }

    /// <summary>What to mind, given what is filled in.</summary>
    public virtual IReadOnlyList<Caution> Cautions(JsonObject data) => [];

    /// <summary>The thing whose page shows the fact, and that a photo shows.</summary>
    public abstract ThingRef? Shows(JsonObject data);

    /// <summary>Whether the form can be opened about a thing of that kind.</summary>
    public virtual bool IsAbout(ThingKind kind) => false;

    /// <summary>The form that usually follows, by its key.</summary>
    public virtual IReadOnlyList<string> Follows => [];

    /// <summary>Fills in what is likely: from the last such fact, from the design, from what was opened.</summary>
    public abstract void Begin(FormContext context, JsonObject data);

    /// <summary>Facts that are recorded with it: a label that was put on at once.</summary>
    public virtual IReadOnlyList<IFact> Besides(FormContext context, JsonObject data, string label) => [];

    /// <summary>Asks for the label as well, where absent no.</summary>
    public virtual string? AsksForLabel => null;

    /// <summary>What is kept of it to begin the next one with: without what was this time's alone.</summary>
    public virtual JsonObject Remembered(JsonObject data) => (JsonObject)data.DeepClone();

    /// <summary>What the check says, with the names of members as the form words them.</summary>
    public string InWords(string? text) => WireNames.InWords(Fields, text ?? "");

    /// <summary>What the form calls the member at a path such as <c>data.lengthMetres</c>; the path itself where it does not ask for it.</summary>
    public string LabelOf(string path) => WireNames.LabelOf(Fields, path);

    /// <summary>Name of the field that asks for the member at a path, or for what is around it; none where the form does not ask for it.</summary>
    public string? FieldAt(string path) => WireNames.FieldAt(Fields, path)?.Name;

    /// <summary>Makes the fact, or says what is wrong with it, in the words of the service.</summary>
    public FormResult Make(FormContext context, JsonObject data, IReadOnlyDictionary<string, string> unreadable)
    {
        ArgumentNullException.ThrowIfNull(data);
        var problems = new List<FactProblem>();
        foreach (var field in Fields.Where(field => field.Shown?.Invoke(context, data) ?? true))
        {
            foreach (var (name, text) in unreadable.Where(each => WireNames.IsIn(each.Key, field.Name)))
                problems.Add(new($"{FactCheck.Root}.{name}", FactProblemKind.Invalid, $"'{text}' is no number.", "Type digits, with a comma or a point."));
            foreach (var name in Missing(field, data).Where(name => !unreadable.ContainsKey(name)))
                problems.Add(new($"{FactCheck.Root}.{name}", FactProblemKind.Invalid, "This is needed.", "Fill it in."));
        }

        if (problems.Count > 0) return new(null, problems);
        var told = (JsonObject)data.DeepClone();
        foreach (var hidden in Fields.Where(field => field.Shown?.Invoke(context, data) == false)) told.Remove(hidden.Name);
        // A member that there is nothing to say of is left out.
        foreach (var empty in told.Where(member => member.Value is null).Select(member => member.Key).ToArray()) told.Remove(empty);
        try
        {
            var fact = (IFact)told.Deserialize(Type, WireJson.Strict)!;
            return new(fact, FactCheck.Check(fact));
        }
        catch (JsonException bad)
        {
            var fault = JsonFault.Of(bad, FactCheck.Root);
            return new(null, [new(fault.Field, FactProblemKind.Invalid, fault.Detail, fault.Remedy)]);
        }
    }

    // What has to be there and is not: the member, or within a member that is there a part of it.
    private static IEnumerable<string> Missing(FormField field, JsonObject data) => data[field.Name] switch
    {
        null => field.MayBeEmpty ? [] : [field.Name],
        JsonObject whole => MissingIn(field, whole, field.Name),
        JsonArray list => list.SelectMany((each, at) => each is JsonObject whole ? MissingIn(field, whole, $"{field.Name}[{at}]") : []),
        _ => [],
    };

    private static IEnumerable<string> MissingIn(FormField field, JsonObject whole, string path) =>
        field.Parts.Where(part => !part.MayBeEmpty && whole[part.Name] is null).Select(part => $"{path}.{part.Name}");
}

/// <summary>What a form made.</summary>
/// <param name="Fact">The fact; none where something is wrong already with one of its members.</param>
/// <param name="Problems">What is wrong.</param>
public sealed record FormResult(IFact? Fact, IReadOnlyList<FactProblem> Problems)
{
    /// <summary>What is wrong with a member, or within it.</summary>
    public FactProblem? Of(string name) => Problems.FirstOrDefault(problem => WireNames.IsIn(problem.Field, $"{FactCheck.Root}.{name}"));

    /// <summary>What is wrong with a member itself, not with a part of it.</summary>
    public FactProblem? Exactly(string name) => Problems.FirstOrDefault(problem => problem.Field == $"{FactCheck.Root}.{name}");
}

/// <summary>The form of a type of fact.</summary>
/// <typeparam name="T">The type.</typeparam>
public abstract class FactForm<T> : FactForm
    where T : IFact
{
    /// <inheritdoc/>
    public override Type Type => typeof(T);

    /// <summary>A text member of the data.</summary>
    protected static string? Text(JsonObject data, string name) => data[name] is JsonValue value && value.TryGetValue<string>(out var text) ? text : null;

    /// <summary>A word of the contract as on the wire.</summary>
    protected static string Word(Enum word) => Ask<T>.Word(word);
}

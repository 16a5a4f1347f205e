using System.Text.Json.Nodes;
using FleetLight.Field.Recording.Forms;
using FleetLight.PageParts.Wording;

namespace FleetLight.Field.Recording;

/// <summary>A form while it is filled in.</summary>
public sealed class FormDraft(FactForm form, FormContext context, JsonObject data)
{
    private readonly Dictionary<string, string> unreadable = new(StringComparer.Ordinal);
    private readonly HashSet<string> touched = new(StringComparer.Ordinal);
    private bool showsAll;

    /// <summary>Something was filled in.</summary>
    public event Action? Changed;

    /// <summary>What it knows.</summary>
    public FormContext Context { get; } = context;

    /// <summary>The data of the fact as far as it is filled in.</summary>
    public JsonObject Data { get; } = data;

    /// <summary>What it makes now.</summary>
    public FormResult Result { get; private set; } = form.Make(context, data, new Dictionary<string, string>());

    /// <summary>A text member, or what stands in a number's field; of a part by its path, <c>tapes[0].from</c>.</summary>
    public string Text(string name) => unreadable.GetValueOrDefault(name) ?? MemberPath.Read(Data, name) switch
    {
        JsonValue value when value.TryGetValue<string>(out var text) => text,
        JsonValue value when value.TryGetValue<double>(out var number) => NumberText.Of(number),
        JsonValue value when value.TryGetValue<int>(out var number) => NumberText.Of(number),
        _ => "",
    };

    /// <summary>Sets a member; nothing stands for none.</summary>
    public void Set(string name, JsonNode? value)
    {
        foreach (var part in unreadable.Keys.Where(each => WireNames.IsIn(each, name)).ToArray()) unreadable.Remove(part);
        MemberPath.Write(Data, name, value);
        Touch(name);
    }

    /// <summary>Changes a member whose parts are told one by one; nothing of it is called wrong before it is touched.</summary>
    public void Rearrange(string name, JsonNode? value)
    {
        foreach (var part in unreadable.Keys.Where(each => WireNames.IsIn(each, name)).ToArray()) unreadable.Remove(part);
        touched.RemoveWhere(each => WireNames.IsIn(each, name));
        Data[name] = value;
        Check();
        Changed?.Invoke();
    }

    /// <summary>Sets a number as it was typed.</summary>
    public void SetNumber(string name, string? text)
    {
        unreadable.Remove(name);
        var isNumber = Figures.TryRead(text, out var value);
        MemberPath.Write(Data, name, isNumber ? value : null);
        if (!isNumber && !string.IsNullOrWhiteSpace(text)) unreadable[name] = text;
        Touch(name);
    }

    /// <summary>What is wrong with a member, where it was touched already or keeping was tried.</summary>
    public string? Wrong(string name) => (showsAll || touched.Contains(name)) && Result.Of(name) is { } problem ? InWords(problem) : null;

    /// <summary>What is wrong with a member whose parts say themselves what is wrong with them.</summary>
    public string? WrongAsWhole(string name) =>
        (showsAll || touched.Any(each => WireNames.IsIn(each, name))) && Result.Exactly(name) is { } problem ? InWords(problem) : null;

    private string InWords(Record.Checks.FactProblem problem) => form.InWords($"{problem.Detail} {problem.Remedy}");

    /// <summary>From now on everything that is wrong shows.</summary>
    public void ShowAll()
    {
        showsAll = true;
        Check();
    }

    /// <summary>What is filled in, to be kept until it is recorded; figures that cannot be read among it.</summary>
    public JsonObject Kept() => new()
    {
        ["data"] = Data.DeepClone(),
        ["unreadable"] = new JsonObject(unreadable.Select(each => KeyValuePair.Create(each.Key, (JsonNode?)each.Value))),
    };

    /// <summary>Goes on with what was kept.</summary>
    public void TakeUp(JsonObject kept)
    {
        ArgumentNullException.ThrowIfNull(kept);
        Data.Clear();
        foreach (var (name, value) in kept["data"] as JsonObject ?? []) Data[name] = value?.DeepClone();
        foreach (var (name, text) in kept["unreadable"] as JsonObject ?? [])
        {
            unreadable[name] = text?.GetValue<string>() ?? "";
            touched.Add(name);
        }

        Check();
    }

    private void Touch(string name)
    {
        touched.Add(name);
        Check();
        Changed?.Invoke();
    }

    private void Check() => Result = form.Make(Context, Data, unreadable);
}

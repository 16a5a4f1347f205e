using System.Globalization;
using System.Text;

namespace FleetLight.Record.Checks;

/// <summary>
/// One check of one fact: where it stands in the data, and what it found. Nothing is written out until something is
/// wrong.
/// </summary>
/// <param name="root">Where the paths of members start; empty for nowhere.</param>
internal sealed class CheckRun(string root)
{
    private readonly List<(string? Name, int Index)> path = new(8);
    private List<FactProblem>? problems;

    /// <summary>What is wrong so far.</summary>
    public IReadOnlyList<FactProblem> Problems => problems ?? (IReadOnlyList<FactProblem>)[];

    /// <summary>Goes into a member; <see cref="Leave"/> comes back.</summary>
    public void Enter(string name) => path.Add((name, -1));

    /// <summary>Goes into a member of a list; <see cref="Leave"/> comes back.</summary>
    public void Enter(int index) => path.Add((null, index));

    /// <summary>Comes back from the last member entered.</summary>
    public void Leave() => path.RemoveAt(path.Count - 1);

    /// <summary>A member is not as the type asks.</summary>
    /// <param name="member">
    /// The member of where the check stands, with its own path; empty for the place itself.
    /// </param>
    /// <param name="detail">What is wrong.</param>
    /// <param name="remedy">What to do.</param>
    public void Invalid(string member, string detail, string remedy) =>
        Add(new(Path(member), FactProblemKind.Invalid, detail, remedy));

    /// <summary>A value lies outside its range.</summary>
    public void OutOfRange(string member, string detail, string remedy) =>
        Add(new(Path(member), FactProblemKind.OutOfRange, detail, remedy));

    /// <summary>Takes what another check found in data that is nested here under a name.</summary>
    public void Take(string member, IEnumerable<FactProblem> nested)
    {
        foreach (var problem in nested)
            Add(problem with { Field = Path(member) + problem.Field[FactCheck.Root.Length..] });
    }

    private void Add(FactProblem problem) => (problems ??= []).Add(problem);

    private string Path(string member)
    {
        var text = new StringBuilder(root);
        foreach (var (name, index) in path)
        {
            if (name is null) text.Append('[').Append(index.ToString(CultureInfo.InvariantCulture)).Append(']');
            else AppendName(text, name);
        }

        if (member.Length > 0) AppendName(text, member);
        return text.ToString();
    }

    private static void AppendName(StringBuilder text, string name) =>
        (text.Length > 0 ? text.Append('.') : text).Append(name);
}

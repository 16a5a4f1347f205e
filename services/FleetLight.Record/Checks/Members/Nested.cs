using FleetLight.Contracts.Facts;

namespace FleetLight.Record.Checks.Members;

/// <summary>A record within a record.</summary>
internal sealed class NestedMember<T, TNested>(string name, Func<T, TNested?> get, bool mayMiss) : Member<T>(name)
    where TNested : class
{
    /// <inheritdoc/>
    public override void Check(T owner, CheckRun run)
    {
        if (get(owner) is not { } nested)
        {
            if (!mayMiss) Missing(run);
            return;
        }

        run.Enter(Name);
        Shape<TNested>.CheckAll(nested, run);
        run.Leave();
    }
}

/// <summary>A list of records within a record.</summary>
internal sealed class NestedListMember<T, TNested>(
    string name, Func<T, TNested?[]?> get, bool mayMiss, ListAttribute list) : Member<T>(name)
    where TNested : class
{
    /// <inheritdoc/>
    public override void Check(T owner, CheckRun run)
    {
        if (get(owner) is not { } nested)
        {
            if (!mayMiss) Missing(run);
            return;
        }

        Counts.Check(Name, nested.Length, list, run);
        run.Enter(Name);
        for (var i = 0; i < nested.Length; i++)
        {
            run.Enter(i);
            if (nested[i] is { } one) Shape<TNested>.CheckAll(one, run);
            else run.Invalid("", "A member of the list is null.", "Leave it out of the list.");
            run.Leave();
        }

        run.Leave();
    }
}

/// <summary>A list of numbers, of which the number of members is checked here and the rest with the record.</summary>
internal sealed class CountMember<T>(string name, Func<T, Array?> get, bool mayMiss, ListAttribute list)
    : Member<T>(name)
{
    /// <inheritdoc/>
    public override void Check(T owner, CheckRun run)
    {
        if (get(owner) is { } members) Counts.Check(Name, members.Length, list, run);
        else if (!mayMiss) Missing(run);
    }
}

/// <summary>How many members a list may have.</summary>
internal static class Counts
{
    public static void Check(string name, int count, ListAttribute list, CheckRun run)
    {
        if (count >= list.Least && count <= list.Most) return;
        run.OutOfRange(
            name,
            $"{name} has {count} members; {list.Least} to {list.Most} are accepted.",
            $"Give {name} with {list.Least} to {list.Most} members.");
    }
}

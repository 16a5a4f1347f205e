namespace FleetLight.Record.Checks.Across;

/// <summary>Finds what stands in a list twice.</summary>
internal static class Repeats
{
    // Up to here comparing each with each is faster than making a set, and nearly every list is shorter.
    private const int FewMembers = 24;

    public static void Check<T>(
        T[] list, Func<T, string> keyOf, string listName, string member, string remedy, CheckRun run)
    {
        var seen = list.Length > FewMembers ? new HashSet<string>(list.Length, StringComparer.Ordinal) : null;
        for (var i = 0; i < list.Length; i++)
        {
            var key = keyOf(list[i]);
            if (seen is null ? !IsBefore(list, keyOf, i, key) : seen.Add(key)) continue;
            var field = member.Length == 0 ? $"{listName}[{i}]" : $"{listName}[{i}].{member}";
            run.Invalid(field, $"{key} stands in {listName} twice.", remedy);
        }
    }

    private static bool IsBefore<T>(T[] list, Func<T, string> keyOf, int end, string key)
    {
        for (var i = 0; i < end; i++)
            if (string.Equals(keyOf(list[i]), key, StringComparison.Ordinal)) return true;
        return false;
    }
}

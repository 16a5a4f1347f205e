using FleetLight.Contracts.Facts;
using FleetLight.Record.Files;

namespace FleetLight.Record.Checks.Across;

/// <summary>What a site calls for.</summary>
internal static class SiteRules
{
    public static void Check(SiteOpened site, CheckRun run)
    {
        var calls = site.DuctCalls ?? [];
        Repeats.Check(calls, call => Words.Of(call.Service), "ductCalls", "service", "Call for each service once.", run);
    }
}

/// <summary>Finds what stands in a list twice.</summary>
internal static class Repeats
{
    public static void Check<T>(
        T[] list, Func<T, string> keyOf, string listName, string member, string remedy, CheckRun run)
    {
        if (list.Length < 2) return;
        var seen = new HashSet<string>(list.Length, StringComparer.Ordinal);
        for (var i = 0; i < list.Length; i++)
        {
            var key = keyOf(list[i]);
            if (seen.Add(key)) continue;
            var field = member.Length == 0 ? $"{listName}[{i}]" : $"{listName}[{i}].{member}";
            run.Invalid(field, $"{key} stands in {listName} twice.", remedy);
        }
    }
}

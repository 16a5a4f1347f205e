using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Ducts;
using FleetLight.Record.Files;

namespace FleetLight.Record.Rules.Ducts;

/// <summary>A string pushed far on a rod lies in loops and jams the next pull.</summary>
public static class StringPushedTooFar
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "string-pushed-by-rod",
        "String pushed by rod too far",
        AlertSeverity.Notice,
        "A string was pushed through more than about 10 m of duct on a rod.",
        "Pull a new string through, or pull the next cable with care: the pushed one may lie in loops.",
        Rule.CommonPractice);

    /// <summary>Greatest length of duct through which a rod is pushed, m (common practice, no source).</summary>
    public const double MostMetres = 10;

    /// <summary>Adds what it finds on the duct.</summary>
    public static void Find(DuctState duct, ICollection<Finding> found)
    {
        if (duct.StringInside is not { Data.Method: StringMethod.PushedByRod } left) return;
        if ((left.Data.LengthMetres ?? duct.Laid?.Data.LengthMetres) is not { } metres || metres <= MostMetres) return;
        found.Add(Rule.On(
            duct.Subject,
            $"The string was pushed by rod through {Words.Of(metres, "m")} of duct; beyond about "
                + $"{Words.Of(MostMetres, "m")} it is better pulled.",
            duct.CircuitIds,
            left.Data.LengthMetres is null && duct.Laid is { } laid ? [laid.Key, left.Key] : [left.Key]));
    }
}

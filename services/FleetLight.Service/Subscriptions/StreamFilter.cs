using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Rules;
using FleetLight.Service.Hosting;
using FleetLight.Service.Works;

namespace FleetLight.Service.Subscriptions;

/// <summary>What of all that is told somebody wants to hear.</summary>
public sealed record StreamFilter
{
    /// <summary>Most members of each list: a count.</summary>
    public const int MostMembers = 100;

    // What besides things is told of in the change feed.
    private static readonly string[] OtherChanges = ["alert", "visit", "attachment"];

    /// <summary>Facts, alerts, changes; all of them where absent.</summary>
    public ToldKind[]? Tell { get; init; }

    /// <summary>Only facts of these types, each with its version; all where absent.</summary>
    [List(1, MostMembers)]
    public string[]? Types { get; init; }

    /// <summary>Only what belongs to these sites: facts that name one, alerts and changes of its things; all where absent.</summary>
    [List(1, MostMembers)]
    public string[]? Sites { get; init; }

    /// <summary>Only changes of these kinds: those of things, <c>alert</c>, <c>visit</c>, <c>attachment</c>; all where absent.</summary>
    [List(1, MostMembers)]
    public string[]? Changed { get; init; }

    /// <summary>Only alerts of these rules; all where absent.</summary>
    [List(1, MostMembers)]
    public string[]? Rules { get; init; }

    /// <summary>The kinds of change that can be asked for.</summary>
    public static string[] ChangeKinds => [.. Enum.GetValues<ThingKind>().Select(ThingKeys.NameOf), .. OtherChanges];

    /// <summary>Whether that is told at all.</summary>
    public bool Tells(ToldKind kind) => Tell is null || Tell.Contains(kind);

    /// <summary>What is wrong with it, if anything.</summary>
    public Problem? Check()
    {
        foreach (var (name, list) in ((string, string?[]?)[])[("types", Types), ("sites", Sites), ("changed", Changed), ("rules", Rules)])
        {
            if (list is { Length: 0 or > MostMembers })
                return Problems.Parameter(name, $"'{name}' holds {list.Length} members; 1 to {MostMembers} are taken.", "Leave it out where nothing is to be left out.");
            if (list?.Any(string.IsNullOrEmpty) == true) return Problems.Parameter(name, $"A member of '{name}' is empty.", "Leave it out.");
        }

        if (Tell is { Length: 0 }) return Problems.Parameter("tell", "'tell' is empty, so nothing would be told.", "Name facts, alerts or changes, or leave it out.");
        if (Types?.FirstOrDefault(type => FactTypes.Find(type) is null) is { } unknown)
            return Problems.Parameter("types", $"There is no type of fact '{Brief(unknown)}'.", "Use a type with its version, for instance fleetlight.reading.taken.v1.");
        if (Changed?.FirstOrDefault(kind => !ChangeKinds.Contains(kind)) is { } other)
            return Problems.Parameter("changed", $"Nothing of the kind '{Brief(other)}' is told of.", $"Use some of: {string.Join(", ", ChangeKinds)}.");
        if (Rules?.FirstOrDefault(rule => !RuleBook.All.Any(known => known.Id == rule)) is { } noRule)
            return Problems.Parameter("rules", $"There is no rule '{Brief(noRule)}'.", "GET /v1/rules lists the rules.");
        return null;
    }

    private static string Brief(string text) => text.Length > 60 ? text[..60] : text;
}

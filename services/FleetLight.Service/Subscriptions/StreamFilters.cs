using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Rules;
using FleetLight.Service.Hosting;
using FleetLight.Service.Works;

namespace FleetLight.Service.Subscriptions;

/// <summary>What a filter lets through, and whether it can be one.</summary>
internal static class StreamFilters
{
    // What besides things is told of in the change feed.
    private static readonly string[] OtherChanges = ["alert", "visit", "attachment"];

    private static readonly string[] ChangeKinds = [.. Enum.GetValues<ThingKind>().Select(ThingKeys.NameOf), .. OtherChanges];

    /// <summary>Whether that is told at all.</summary>
    public static bool Tells(this StreamFilter filter, ToldKind kind) => filter.Tell is null || filter.Tell.Contains(kind);

    /// <summary>What is wrong with it, if anything.</summary>
    public static Problem? Check(this StreamFilter filter)
    {
        var lists = ((string, string?[]?)[])[("types", filter.Types), ("sites", filter.Sites), ("changed", filter.Changed), ("rules", filter.Rules)];
        foreach (var (name, list) in lists)
        {
            if (list is { Length: 0 or > StreamFilter.MostMembers })
            {
                return Problems.Parameter(
                    name, $"'{name}' holds {list.Length} members; 1 to {StreamFilter.MostMembers} are taken.", "Leave it out where nothing is to be left out.");
            }

            if (list?.Any(string.IsNullOrEmpty) == true) return Problems.Parameter(name, $"A member of '{name}' is empty.", "Leave it out.");
        }

        if (filter.Tell is { Length: 0 })
            return Problems.Parameter("tell", "'tell' is empty, so nothing would be told.", "Name facts, alerts or changes, or leave it out.");
        if (filter.Types?.FirstOrDefault(type => FactTypes.Find(type) is null) is { } unknown)
            return Problems.Parameter("types", $"There is no type of fact '{Brief(unknown)}'.", "Use a type with its version, for instance fleetlight.reading.taken.v1.");
        if (filter.Changed?.FirstOrDefault(kind => !ChangeKinds.Contains(kind)) is { } other)
            return Problems.Parameter("changed", $"Nothing of the kind '{Brief(other)}' is told of.", $"Use some of: {string.Join(", ", ChangeKinds)}.");
        if (filter.Rules?.FirstOrDefault(rule => !RuleBook.All.Any(known => known.Id == rule)) is { } noRule)
            return Problems.Parameter("rules", $"There is no rule '{Brief(noRule)}'.", "GET /v1/rules lists the rules.");
        return null;
    }

    private static string Brief(string text) => text.Length > 60 ? text[..60] : text;
}

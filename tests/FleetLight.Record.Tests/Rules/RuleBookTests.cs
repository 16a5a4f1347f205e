using System.Text.RegularExpressions;
using FleetLight.Record.Rules;

namespace FleetLight.Record.Tests.Rules;

/// <summary>What every rule must have.</summary>
public sealed partial class RuleBookTests
{
    [Fact]
    public void Ids_are_unique_and_in_kebab_case()
    {
        var ids = RuleBook.All.Select(rule => rule.Id).ToList();

        Assert.Equal(ids.Count, ids.Distinct().Count());
        Assert.All(ids, id => Assert.Matches(KebabCase(), id));
        Assert.Equal(ids.Order(StringComparer.Ordinal), ids);
    }

    [Fact]
    public void Every_rule_says_what_it_finds_what_clears_it_and_where_it_is_from() =>
        Assert.All(RuleBook.All, rule => Assert.All(
            [rule.Title, rule.Finds, rule.Clears, rule.Source], text => Assert.False(string.IsNullOrWhiteSpace(text))));

    [Fact]
    public void Every_rule_has_a_test_of_its_own()
    {
        var tested = typeof(RuleBookTests).Assembly.GetTypes().Select(type => type.Name).ToHashSet();
        var rules = typeof(RuleBook).Assembly.GetTypes()
            .Where(type => type.GetProperty("Rule")?.PropertyType == typeof(Rule) && type.GetMethod("Find") is not null)
            .ToList();

        Assert.Equal(RuleBook.All.Count, rules.Count);
        Assert.All(rules, rule => Assert.Contains(rule.Name + "Tests", tested));
    }

    [GeneratedRegex("^[a-z]+(-[a-z0-9]+)*$")]
    private static partial Regex KebabCase();
}
